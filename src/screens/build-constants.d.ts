/** From package.json, set by vite.config.ts; absent under tsx (src/batch). */
declare const __PROGRAM_VERSION__: string;
