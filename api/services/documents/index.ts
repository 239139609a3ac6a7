export { createDocumentService, ORDER_FORMS, type DocumentService, type OrderForm } from './document-service.ts';
export { registerFaces, spell, type Face } from './typeface.ts';
