/** Lots that were settled in one sum: the other side's assay is of all of them together, and so is what it is held against. */
import { listWords } from '../reports/words';
import { accountsOf } from '../workspace/accounts';
import { bestOf, sharesOf } from '../workspace/selling/known';
import { consignmentOf } from '../workspace/selling/shipments';
import type { Workspace } from '../workspace/workspace';
import { apartSection, said } from './assay-apart';
import { type Choice, isWithin } from './choice';
import { countedEntries } from './entries';
import type { Section } from './model';

/** Their assay of a shipment is that of its one lot. */
export const wentAlone = (workspace: Workspace, shipment: string): boolean =>
  consignmentOf(workspace, shipment)?.lots.length === 1;

/** Of a lot that was asked for, those that it went with. */
export const togetherSections = (workspace: Workspace, choice: Choice): readonly Section[] =>
  countedEntries(workspace)
    .filter(({ verb, readings, date }) => verb === 'settle' && readings.length > 0 && isWithin(choice, date))
    .flatMap((entry) => {
      const { ship, lots = [] } = (entry.name && consignmentOf(workspace, entry.name.name)) ?? {};
      const names = lots.map(({ lot }) => lot);
      if (lots.length < 2 || (choice.lot !== undefined && !names.includes(choice.lot))) return [];
      const whose = entry.party?.name ?? ship?.parts.find(({ party }) => party)?.party?.name ?? 'theirs';
      return apartSection(
        workspace,
        `${listWords(names)} together`,
        entry.readings.map(({ reading }) => ({
          whose,
          by: `settle ${entry.name!.name}`,
          entry,
          ...said(reading, 'settle'),
        })),
        sharesOf(lots, bestOf(accountsOf(workspace).metals)),
        1,
      );
    });
