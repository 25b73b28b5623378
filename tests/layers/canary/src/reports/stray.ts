import '../devices/stray.ts';
