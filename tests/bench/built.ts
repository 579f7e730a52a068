/** A module of the built program, which is what users run (`npm run build`), not its source through a loader. */
export const built = <Module>(path: string): Promise<Module> =>
  import(new URL(`../../dist/${path}.js`, import.meta.url).href) as Promise<Module>;
