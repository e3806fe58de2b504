/** The examples of a finding's page. Asked for here, as a program holds them apart from the rules (server/examples-apart.mjs). */

export interface Examples {
  readonly wrong: string;
  readonly right: string;
}

export const examplesOf = ({ wrong, right }: Examples & { readonly code: string }): Examples => ({ wrong, right });
