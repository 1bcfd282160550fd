/** What a reader must know before trusting a prediction with a person's weight; printed with every ledger and page. */
export const GENERAL_CAUTION =
  'A prediction for choosing between designs. Prototypes are proof-loaded before anybody rides them; testing to ISO 4210, EN 15194 or 16 CFR 1512 by a competent laboratory, and local law, decide.';
