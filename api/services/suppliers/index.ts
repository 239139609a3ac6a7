export { dropNulls, readCurrency, readShopCard, readShopOffers, readSupplierCards, readTerms, storable, writeCard, writeOffer } from './supplier-cards.ts';
export { createSupplierService, type SupplierService } from './supplier-service.ts';
