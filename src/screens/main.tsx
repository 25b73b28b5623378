import { render } from 'preact';
import { App } from './app.tsx';
import './theme.css';

const root = document.getElementById('app');
if (root === null) throw new Error('index.html has no element with id "app"');
render(<App />, root);
