/** What a page asks the service worker; it answers each with a `VersionAnswer` through the port that came along. */
export type VersionRequest = { readonly type: 'which-version' } | { readonly type: 'use-newest' };

export interface VersionAnswer {
  /** A complete newer version is on this device, and pages are still served the one chosen before. */
  readonly isNewVersionReady: boolean;
}
