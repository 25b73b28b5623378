import '../core/simulator/stray.ts';
