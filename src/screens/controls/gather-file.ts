import type { FromWorker } from '../../worker/contract.ts';
import { saveFile } from './save-file.ts';

type FilePart = Extract<FromWorker, { type: 'file-part' }>;

/** Puts a file together that the worker posts part by part, and offers it to the coach once it is whole. */
export function createFileGatherer(onSaved: (fileName: string) => void): (part: FilePart) => void {
  const parts: Uint8Array[] = [];
  return ({ fileName, bytes, isLast }) => {
    parts.push(bytes);
    if (!isLast) return;
    saveFile(fileName, parts.splice(0));
    onSaved(fileName);
  };
}
