/** Days of arrival are told to a person as the plan counts them; light enough for the page itself. */
export { arrivalDate } from '../../api/engine/source/index.ts';
