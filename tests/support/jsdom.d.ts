/** As much as the tests use. Its own types would put a browser's names into every file. */
declare module 'jsdom' {
  export class JSDOM {
    constructor(
      text: string,
      options?: { readonly runScripts?: 'outside-only'; readonly contentType?: 'image/svg+xml' },
    );
    readonly window: { readonly document: unknown; eval(script: string): void };
  }
}
