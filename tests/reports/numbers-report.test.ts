import { describe, expect, it } from 'vitest';
import { EXPORTED_MEASURES } from '../../src/core/exports/measure-columns.ts';
import { METHODS } from '../../src/reports/measure-methods.ts';
import { type NumbersReport, numbersReport } from '../../src/reports/numbers-report.ts';
import { estimate, reportedDemo } from './reported-demo.ts';

const DEMO = reportedDemo();

function lineOf(report: NumbersReport, start: string) {
  const line = report.measures.find(({ meaning }) => meaning.startsWith(start));
  if (line === undefined) throw new Error(`no measure begins with ${start}`);
  return line;
}

const allText = (report: NumbersReport) => JSON.stringify(report);

describe('the page of numbers', () => {
  it('has a line, and a method, for each exported measure', () => {
    const { measures } = numbersReport(DEMO);
    expect(measures).toHaveLength(EXPORTED_MEASURES.length);
    expect(Object.keys(METHODS)).toEqual(EXPORTED_MEASURES.map(({ name }) => name));
    for (const { unit, method } of measures) expect(unit && method).not.toBe('');
  });

  it('shows centimetres, degrees, per cent and points, each with interval and n', () => {
    const { arm, score } = DEMO.measures;
    const report = numbersReport({
      ...DEMO,
      measures: {
        ...DEMO.measures,
        reach: {
          n: 12,
          meanM: estimate(0.8421, 0.83, 0.854, 12),
          spreadM: estimate(0.019, 0.014, 0.0249, 12),
        },
        score: {
          ...(score as Exclude<typeof score, { reason: string }>),
          hitRate: estimate(0.75, 0.467, 0.911, 12),
        },
        arm: {
          ...arm,
          freezing: {
            n: 12,
            elbowExcursionRad: estimate(Math.PI / 6, Math.PI / 9, Math.PI / 4, 12),
            wristExcursionRad: estimate(Math.PI / 6, Math.PI / 9, Math.PI / 4, 12),
          } as unknown as typeof arm.freezing,
        },
      },
    });
    expect(lineOf(report, 'Mean reach')).toMatchObject({
      value: '84.2',
      interval: '83.0 to 85.4',
      n: '12',
      unit: 'cm',
    });
    expect(lineOf(report, 'SD of reach at contact, errors')).toMatchObject({
      value: '1.9',
      interval: '1.4 to 2.5',
    });
    expect(lineOf(report, 'Share of scored')).toMatchObject({
      value: '75',
      interval: '47 to 91',
      unit: '%',
    });
    expect(lineOf(report, 'Largest less smallest elbow')).toMatchObject({
      value: '30',
      interval: '20 to 45',
      unit: '°',
    });
  });

  it('says why a measure has no value and how many swings it needs', () => {
    const accuracySplit = { reason: 'too-few', need: 10, have: 3 } as const;
    const report = numbersReport({ ...DEMO, measures: { ...DEMO.measures, accuracySplit } });
    expect(lineOf(report, "Hedges' g")).toMatchObject({
      value: '–',
      interval: '3 of at least 10 swings',
      n: '–',
    });
  });

  it('tells what the data are worth, and never shows what is not known as a number', () => {
    const report = numbersReport(DEMO);
    const quality = Object.fromEntries(report.quality);
    expect(quality.Swings).toBe('12 found, 12 count');
    expect(quality['Left out']).toBe('none');
    expect(quality.Zeroing).toMatch(/^both poses held, last \d+\.\d min into the set$/);
    expect(quality['Program version']).toBe('test');
    expect(report.sensors.map(({ name }) => name)).toEqual(['upper arm', 'forearm', 'implement']);
    expect(report.sensors[0]!.lostPackets).toMatch(/^\d+ of \d+$/);

    const health = {
      ...DEMO.view.sensors.forearm,
      rateHz: Number.NaN,
      clockHalfWidthMs: Number.NaN,
    };
    const blind = numbersReport({
      ...DEMO,
      view: { ...DEMO.view, sensors: { ...DEMO.view.sensors, forearm: health } },
    });
    expect(blind.sensors[1]).toMatchObject({ rateHz: '–', clockMs: '–' });
    expect(allText(blind)).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('states limits and sources', () => {
    const { limits, sources } = numbersReport(DEMO);
    expect(limits.join(' ')).toContain('not compared between days to the centimetre');
    for (const method of Object.values(METHODS)) {
      const [mark] = /\[\d\]/.exec(method)!;
      expect(sources.some((source) => source.startsWith(mark))).toBe(true);
    }
  });
});
