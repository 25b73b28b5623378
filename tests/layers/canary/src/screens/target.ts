import './circle.ts';
