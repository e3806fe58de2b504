/** A shipment of which no settlement has come. */
import { showMoney } from '../../quantity/money';
import type { Worth } from '../../workspace/selling/offers';
import type { Sale } from '../../workspace/selling/sales';
import { spreadMoney } from './money';
import { NO_OFFER } from './sum';
import { dayWords } from './words';
import { isWhole, worthSays, worthSum } from './worth';

export const DAY = 'shipped';

export const shipmentSays = ({ entry }: Sale, worth: Worth | undefined): readonly string[] => {
  const { name, party, date } = entry;
  const days = worth?.terms?.days;
  return [
    `${name?.name ?? 'The shipment'} went to ${party?.name ?? 'nobody named'}${date ? ` on ${date}` : ''}, and is not settled${days === undefined ? '' : `; it is to be within ${dayWords(days)}`}.`,
    ...(worth
      ? [
          ...worthSays(worth),
          ...worthSum(worth).map((line) => `  ${line}`),
          ...(isWhole(worth) ? [] : [`The sum leaves something out: ${showMoney(worth.payout.total)} is not all.`]),
          ...(worth.full
            ? [
                `At the full price of ${worth.market.date}: ${spreadMoney({ value: worth.full.amount.toNumber(), sources: [], sizes: [] }, worth.market.currency)}.`,
              ]
            : []),
          NO_OFFER,
        ]
      : ['What it is worth cannot be told: its weight, its metals or a price is not known.']),
  ];
};
