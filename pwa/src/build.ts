/** Which build of the app this is. */

interface Build {
  readonly version: string;
  readonly build: string;
}

declare const __BUILD__: Build;

/** Written in when the app is built: its version, and a digest of its sources. */
export const APP: Build = __BUILD__;

export const buildWords = ({ version, build }: Build): string => `${version} (${build})`;
