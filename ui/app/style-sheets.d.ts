/** Style sheets are imported for their effect; the build puts them into the page. */
declare module '*.css';
