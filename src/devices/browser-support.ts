/** Something this browser or address cannot do, and what the coach can do about it. */
export interface SupportGap {
  readonly code: 'not-secure' | 'no-storage' | 'no-bluetooth';
  /** What it stops: a set with real sensors only, or the simulated player as well. */
  readonly stops: 'sensors' | 'everything';
  readonly message: string;
}

/** The parts of the browser that the checks look at. */
export interface BrowserFacts {
  readonly isSecureContext: boolean;
  readonly hasBluetooth: boolean;
  readonly hasWorker: boolean;
  readonly hasPrivateFiles: boolean;
}

/** Reads the facts from the page's own browser. */
export function readBrowserFacts(): BrowserFacts {
  return {
    isSecureContext: globalThis.isSecureContext,
    hasBluetooth: 'bluetooth' in navigator,
    hasWorker: typeof Worker === 'function',
    hasPrivateFiles: typeof navigator.storage?.getDirectory === 'function',
  };
}

/**
 * What is missing for recording a set.
 * Outside a secure context browsers hide Bluetooth and storage, so only the cause is named then.
 * @returns an empty list when everything works
 */
export function findSupportGaps(facts: BrowserFacts): readonly SupportGap[] {
  if (!facts.isSecureContext) {
    return [
      {
        code: 'not-secure',
        stops: 'everything',
        message:
          'This address is not secure, so the browser allows neither sensors nor storage. Open the app at an address that starts with https://, or on localhost.',
      },
    ];
  }
  const gaps: SupportGap[] = [];
  if (!facts.hasWorker || !facts.hasPrivateFiles) {
    gaps.push({
      code: 'no-storage',
      stops: 'everything',
      message:
        'This browser cannot store sets on the device. Update it, or leave private browsing; a current Chrome, Edge, Firefox or Safari works.',
    });
  }
  if (!facts.hasBluetooth) {
    gaps.push({
      code: 'no-bluetooth',
      stops: 'sensors',
      message:
        'This browser has no Web Bluetooth, so it cannot reach the sensors. Use Chrome or Edge on Android, Windows, macOS or ChromeOS. The simulated player works here.',
    });
  }
  return gaps;
}
