import '../pipeline/stray.ts';
