/** The symbol of a metal. */
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import { element } from '../../vocabulary/elements';

export const metalMarkdown = (symbol: string): string => {
  const found = element(symbol);
  if (!found) return `**${escapeMarkdown(symbol)}** · no chemical element`;
  const { name, density, meltsAtC, boilsAtC } = found;
  const facts = [
    density && `${density.value} g/cm³ (${density.source})`,
    meltsAtC && `melts at ${meltsAtC.value} °C (${meltsAtC.source})`,
    boilsAtC && `boils at ${boilsAtC.value} °C (${boilsAtC.source})`,
  ].filter((fact) => fact !== undefined);
  return paragraphs(`**${symbol}** · ${name}`, facts.length > 0 ? escapeMarkdown(`${facts.join(', ')}.`) : undefined);
};
