/** A settlement that agrees with its shipment `V1` of 50.00 g, and a lot sold of hand: the end of a page of selling. */

export const SETTLED = `2026-05-10
quote Au 2500.00 USD/ozt
quote Ag 30.00 USD/ozt
settle V1
  received 50.00 g, melted 49.95 g
  Au 90.00 %, Ag 5.00 %
  pays Au 98 %, price Au 2500.00 USD/ozt
  pays Ag 90 %, price Ag 30.00 USD/ozt
  charge melting 40.00 USD
  total 3503.25 USD, paid 2026-05-11
receive N 5.00 g
assay N by fire, corrected
  Au 80.00 %
sell N to quay-refiner for 300.00 USD
`;
