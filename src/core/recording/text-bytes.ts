// Core compiles with lib ES2023 alone, which lacks these two. Every place core runs in (browser,
// worker, Node) has them; declared for this module only, so that DOM or Node types cannot clash.
declare const TextEncoder: new () => { encode(text: string): Uint8Array };
declare const TextDecoder: new (
  label: 'utf-8',
  options: { readonly fatal: true },
) => { decode(bytes: Uint8Array): string };

/**
 * UTF-8 bytes of a text.
 * @param text any string; a lone surrogate becomes U+FFFD
 */
export function bytesFromText(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

/**
 * Text of UTF-8 bytes; a byte order mark is dropped.
 * @throws TypeError when the bytes are not UTF-8
 */
export function textFromBytes(bytes: Uint8Array): string {
  return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
}
