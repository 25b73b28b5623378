import '../worker/stray.ts';
