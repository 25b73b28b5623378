import { ACCURACY_CLASSES } from '../../core/measures/accuracy-classes.ts';
import type { AccuracySplit, AnglePlane } from '../../core/measures/accuracy-split.ts';
import type { AngleColumns, ArmAngles } from '../../core/measures/arm-angles.ts';
import { MEASURES } from '../../core/measures/thresholds.ts';
import { unknownVerdict } from '../../core/measures/verdict.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import { checkedMean } from '../../core/statistics/moments.ts';
import { ClassMarks, classLegend } from './ClassMarks.tsx';
import { Frame } from './Frame.tsx';
import type { PictureSpec, PictureTable, PictureView } from './picture-spec.ts';
import {
  CLASS_LOOKS,
  countedSwings,
  DEG,
  estimateCells,
  groupsByClass,
  type ReadSet,
} from './read-set.ts';
import { extentOf, roundRange } from './scale.ts';
import { Curve, Ellipse, Inside } from './shapes.tsx';

/** An ellipse of fewer balls says nothing but that they are few. */
const LEAST_BALLS = MEASURES.accuracySplit.limits.minimumN;

type Ellipses = AnglePlane['ellipses'];

interface Plane {
  readonly label: string;
  readonly names: readonly [string, string];
  readonly x: AngleColumns;
  readonly y: AngleColumns;
  readonly ellipses: Ellipses;
  /** With the direction along which reach stays the same; null where it is not drawn. */
  readonly axes: AnglePlane | null;
}

/** Which way two angles vary at contact, on accurate and on poor balls. */
export function anglePlanesPicture(read: ReadSet): PictureSpec | null {
  const { accuracySplit: split, arm, angleN = 0 } = read.measures;
  if (split === undefined || arm === undefined) return null;
  return {
    id: 'angle-planes',
    title: 'Good and bad balls: which way do two angles vary?',
    words: isUnavailable(split)
      ? unknownVerdict(MEASURES.accuracySplit, angleN, split).words
      : split.verdict.words,
    explanation: `Each mark is one ball: its two angles at contact. The ellipses are where 95 % of further balls of a class would lie, drawn from ${LEAST_BALLS} balls of it on. Along the dashed line both angles change and reach stays the same: spread along it does no harm, spread across it changes reach. A turn of the whole arm moves two segments alike, along the rising diagonal; elbow and wrist are free of it.`,
    source:
      '95 % prediction ellipse (Chew 1966); direction of equal reach from the mean arm (uncontrolled manifold, Scholz & Schöner 1999).',
    views:
      isUnavailable(split) || isUnavailable(arm.angles)
        ? []
        : planesOf(split, arm.angles).map((plane) => planeView(read, plane)),
  };
}

function planesOf(split: AccuracySplit, angles: ArmAngles): Plane[] {
  const { elbowWrist, segments } = split;
  const { elbow, wrist, upperArm, forearm, implement } = angles;
  return [
    ...(elbowWrist === null
      ? []
      : [
          {
            label: 'elbow, wrist',
            names: ['Elbow', 'Wrist'],
            x: elbow,
            y: wrist,
            ellipses: elbowWrist.ellipses,
            axes: elbowWrist,
          } as const,
        ]),
    ...(segments === null
      ? []
      : [
          {
            label: 'upper arm, forearm',
            names: ['Upper arm', 'Forearm'],
            x: upperArm,
            y: forearm,
            ellipses: segments.upperArmForearm,
            axes: null,
          } as const,
          {
            label: 'forearm, implement',
            names: ['Forearm', 'Implement'],
            x: forearm,
            y: implement,
            ellipses: segments.forearmImplement,
            axes: null,
          } as const,
        ]),
  ];
}

function planeView(read: ReadSet, plane: Plane): PictureView {
  const swings = countedSwings(read).filter(({ swing }) => swing.courtHeadingKnown);
  const [x, y] = [plane.x.at(-1)!, plane.y.at(-1)!].map((column) => column.map((a) => DEG * a)) as [
    Float64Array,
    Float64Array,
  ];
  const groups = groupsByClass(swings, read.description);
  const [across, up] = [rangeOf(x), rangeOf(y)];
  const centre = [checkedMean(x), checkedMean(y)] as const;
  const turn = plane.axes?.manifoldRad ?? 0;
  const line = lineThrough(centre, turn, 10 * (across[1] - across[0] + up[1] - up[0]));
  return {
    label: plane.label,
    alternative: `${swings.length} balls by ${plane.names[0].toLowerCase()} and ${plane.names[1].toLowerCase()} angle at contact, with an ellipse for each class.`,
    aspect: 1,
    draw: (size) => (
      <Frame
        size={size}
        isEqual
        x={{ low: across[0], high: across[1], label: `${plane.names[0]}, degrees` }}
        y={{ low: up[0], high: up[1], label: `${plane.names[1]}, degrees` }}
        legend={[
          ...classLegend(groups),
          ...(plane.axes
            ? [
                {
                  label: 'reach stays the same',
                  colour: '--ink',
                  kind: 'line',
                  dash: '6 4',
                } as const,
              ]
            : []),
        ]}
      >
        {(plot) => (
          <Inside plot={plot}>
            {plane.axes && <Curve plot={plot} x={line[0]} y={line[1]} colour="--ink" dash="6 4" />}
            <ClassMarks plot={plot} groups={groups} x={x} y={y} />
            {ACCURACY_CLASSES.map((name) => {
              const found = plane.ellipses[name];
              if (isUnavailable(found) || found.ellipse.n < LEAST_BALLS) return null;
              const { ellipse, size: half } = found;
              const angleRad = typeof ellipse.angleRad === 'number' ? ellipse.angleRad : 0;
              return (
                <Ellipse
                  key={name}
                  plot={plot}
                  centre={[DEG * ellipse.centreX, DEG * ellipse.centreY]}
                  halfAxes={[DEG * half.semiMajor, DEG * half.semiMinor]}
                  turnRad={angleRad}
                  colour={CLASS_LOOKS[name].colour}
                  dash={CLASS_LOOKS[name].dash}
                />
              );
            })}
          </Inside>
        )}
      </Frame>
    ),
    table: tableOf(plane),
  };
}

function tableOf({ names, ellipses, axes }: Plane): PictureTable {
  const toManifold = {
    accurate: axes?.accurateToManifold,
    fair: undefined,
    poor: axes?.poorToManifold,
  };
  return {
    columns: [
      { name: 'Balls', digits: 0 },
      { name: 'Number', digits: 0 },
      { name: `Mean ${names[0].toLowerCase()}, degrees`, digits: 1 },
      { name: `Mean ${names[1].toLowerCase()}, degrees`, digits: 1 },
      { name: 'SD along the ellipse, degrees', digits: 1 },
      { name: 'SD across the ellipse, degrees', digits: 1 },
      { name: 'Direction of the ellipse, degrees', digits: 0 },
      { name: 'From the line of equal reach, degrees', digits: 0 },
      { name: '95 % from, degrees', digits: 0 },
      { name: '95 % to, degrees', digits: 0 },
    ],
    rows: ACCURACY_CLASSES.map((name) => {
      const found = ellipses[name];
      if (isUnavailable(found)) return [CLASS_LOOKS[name].label, ...Array(9).fill(null)];
      const { n, centreX, centreY, majorSd, minorSd, angleRad } = found.ellipse;
      return [
        CLASS_LOOKS[name].label,
        n,
        DEG * centreX,
        DEG * centreY,
        DEG * majorSd,
        DEG * minorSd,
        typeof angleRad === 'number' ? DEG * angleRad : null,
        ...estimateCells(toManifold[name], DEG),
      ];
    }),
  };
}

function rangeOf(column: Float64Array): readonly [number, number] {
  const [low, high] = extentOf(column, [0, 1]);
  const room = Math.max(1, 0.3 * (high - low));
  return roundRange(low - room, high + room, 6);
}

/** A line through a point, long enough to leave the frame, which cuts it off. */
function lineThrough(
  [x, y]: readonly [number, number],
  turnRad: number,
  halfLength: number,
): readonly [number[], number[]] {
  const ends = [-halfLength, halfLength];
  return [ends.map((t) => x + t * Math.cos(turnRad)), ends.map((t) => y + t * Math.sin(turnRad))];
}
