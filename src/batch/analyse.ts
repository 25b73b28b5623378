import { analyseCommand } from './analyse-command.ts';

// A reader that has seen enough (`| head`) is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});
process.exitCode = await analyseCommand(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  error: (message) => console.error(message),
});
