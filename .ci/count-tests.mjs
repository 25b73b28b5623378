// Prints the totals of a Vitest JSON report; fails unless every test of every project ran and passed.
import { readFileSync } from 'node:fs';

const report = JSON.parse(readFileSync(process.argv[2], 'utf8'));
const passed = report.numPassedTests;
const failed = report.numFailedTests;
const skipped = report.numTotalTests - passed - failed;
const inBrowser = report.testResults
  .filter(({ name }) => name.replaceAll('\\', '/').includes('/tests/browser/'))
  .flatMap(({ assertionResults }) => assertionResults)
  .filter(({ status }) => status === 'passed').length;

const complaints = [
  [!report.success, 'the run did not succeed (a failed test, or an error outside any test)'],
  [skipped > 0, 'tests were skipped'],
  [passed === 0, 'no test ran'],
  [inBrowser === 0, 'no browser test ran'],
].filter(([applies]) => applies);
for (const [, text] of complaints) console.error(`tests: ${text}`);
// At the end of the log, since only that may be kept.
for (const { name, message, status, assertionResults } of report.testResults) {
  const failures = assertionResults.filter((result) => result.status === 'failed');
  if (status === 'failed' && failures.length === 0) console.error(`failed: ${name}\n${message}`);
  for (const { fullName, failureMessages } of failures) {
    console.error(`failed: ${name}: ${fullName}\n${failureMessages.join('\n')}`);
  }
}
console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`);
process.exitCode = complaints.length > 0 ? 1 : 0;
