import './target.ts';
