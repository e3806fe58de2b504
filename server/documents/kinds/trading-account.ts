/** The money side of a period: purchases with what they brought, buyers against what was expected, what is not paid for yet, toll work, slag, costs. */

import { NO_OFFER } from '../../reports/selling/sum';
import { accountsOf } from '../../workspace/accounts';
import { periodWords } from '../choice';
import { says, section, sentences } from '../model';
import { openWithSection } from '../open-with';
import { boughtSection } from '../trading/bought';
import { buyersSection } from '../trading/buyers';
import { cleanUpsSection } from '../trading/clean-ups';
import { costSection } from '../trading/cost';
import { exposedSection } from '../trading/exposed';
import { sellersSection } from '../trading/sellers';
import { slagSection } from '../trading/slag';
import { tollSection } from '../trading/toll';
import type { Kind } from './kind';

export const tradingAccount: Kind = {
  code: 'trading-account',
  title: 'Trading account',
  means:
    'the money side of a period: what purchases and own sources brought, what buyers paid against what was expected, what a lower price would do, what toll work and a fine gram cost, whether slag pays',
  takes: ['from', 'to'],
  restsOn: 'period',
  make: (workspace, choice) => {
    const until = choice.to ?? accountsOf(workspace).lastDate;
    return {
      title: `Trading account: ${periodWords(choice)}`,
      until: choice.to,
      facts: [],
      sections: [
        ...boughtSection(workspace, choice, until),
        ...sellersSection(workspace, choice, until),
        ...cleanUpsSection(workspace, choice, until),
        ...buyersSection(workspace, choice),
        ...openWithSection(workspace, choice.to),
        ...exposedSection(workspace, until),
        ...tollSection(workspace, choice, until),
        ...slagSection(workspace, until),
        ...costSection(workspace, choice, until),
        ...section('Mind', sentences([says(NO_OFFER)])),
      ],
    };
  },
};
