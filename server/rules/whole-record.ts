/**
 * Codes of findings that rest on the whole record and not only on what hangs together with their entry: they can be told only once all pages
 * are read. A name that nothing bears is held against all names there are; a loss against what earlier steps of its kind lost; a
 * reading against all its history, once, at the end; a stock-take against all lots that may stand in its place;
 * a seal against all that it closes; what is looked back on; a sale against prices, terms and other sales, and the last day; a price against those of other pages.
 */
export const REST_ON_WHOLE_RECORD: ReadonlySet<string> = new Set([
  'unknown-lot',
  'near-name',
  'loss-above-usual',
  'suspect-reading',
  'not-counted',
  'seal-broken',
  'seal-without-digest',
  'file-changed',
  'fine-loss-above-earlier',
  'loss-creeping',
  'scale-drifts',
  'crucible-worn',
  'order-by-page',
  'price-missing',
  'price-apart',
  'price-old',
  'price-unit',
  'silver-unpaid',
  'bill-differs',
  'given-back-short',
  'given-back-too-much',
  'not-settled',
  'paid-before-shipped',
  'offer-below-terms',
  'offer-total',
  'settled-weight',
  'settled-assay',
  'settled-terms',
  'settled-price',
  'settled-total',
  'settled-below-offer',
  'settled-and-back',
  'settled-by-another',
  'settled-twice',
  'returned-differs',
  'refining-not-worth',
]);
