/** Inputs of a published case, read by name: a missing one fails its test rather than passing as nothing. */
export type Inputs = Readonly<Record<string, unknown>>;

export const number = (inputs: Inputs, key: string): number => {
  const value = inputs[key];
  if (typeof value !== 'number') throw new Error(`no number ${key}`);
  return value;
};

export const text = (inputs: Inputs, key: string): string => {
  const value = inputs[key];
  if (typeof value !== 'string') throw new Error(`no text ${key}`);
  return value;
};

export const list = <T>(inputs: Inputs, key: string): readonly T[] => {
  const value = inputs[key];
  if (!Array.isArray(value)) throw new Error(`no list ${key}`);
  return value as T[];
};

export const table = (inputs: Inputs, key: string): readonly (readonly [string, number])[] => {
  const value = inputs[key];
  if (typeof value !== 'object' || value === null) throw new Error(`no table ${key}`);
  return Object.entries(value as Record<string, number>);
};

/** The value of a result, or an error with its reason. */
export const answered = <T>(result: { readonly value: T | undefined; readonly reason?: string | undefined }): T => {
  if (result.value === undefined) throw new Error(result.reason ?? 'no answer');
  return result.value;
};

/** What one case comes to: a figure, a low and a high one, or a word. */
export type Found = number | readonly number[] | string;
export type Reckon = (inputs: Inputs) => Found;
export type Reckoned = Readonly<Record<string, Reckon>>;

/** The same reckoning for several cases. */
export const each = (ids: readonly string[], reckon: Reckon): Reckoned =>
  Object.fromEntries(ids.map((id) => [id, reckon]));

/** `MET-003` to `MET-007`. */
export const span = (first: number, last: number): string[] =>
  Array.from({ length: last - first + 1 }, (_, at) => `MET-${String(first + at).padStart(3, '0')}`);
