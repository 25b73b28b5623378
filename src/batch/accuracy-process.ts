import type { Trial } from './accuracy-trials.ts';
import { measureAccuracy } from './measure-accuracy.ts';
import { answerItems } from './processes.ts';

answerItems((trial: Trial) => measureAccuracy(trial.options, trial.params, trial.told));
