import { BehaviorSubject, type Observable, Subject } from 'rxjs';
import { type PerSegment, SEGMENTS, type Segment } from '../core/arm/segments.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { explainConnectionFailure } from './connection-failure.ts';
import { SensorLink } from './sensor-link.ts';
import type { LinkClock, SensorPort } from './sensor-port.ts';
import type { ConnectionState } from './transport.ts';

const BLINK_S = 5;

/** Three sensors over their links: what the transports for radio and simulator share. */
export class LinkedSensors {
  readonly records$: Observable<SetRecord>;
  readonly connections$: Observable<PerSegment<ConnectionState>>;
  readonly #clock: LinkClock;
  readonly #records = new Subject<SetRecord>();
  readonly #connections = new BehaviorSubject<PerSegment<ConnectionState>>({
    upperArm: { state: 'absent' },
    forearm: { state: 'absent' },
    implement: { state: 'absent' },
  });
  readonly #links = new Map<Segment, SensorLink>();
  #closed = false;

  constructor(clock: LinkClock) {
    this.#clock = clock;
    this.records$ = this.#records.asObservable();
    this.connections$ = this.#connections.asObservable();
  }

  /** Whether a sensor was given this segment, streaming or not. */
  isLinked(segment: Segment): boolean {
    return this.#links.has(segment);
  }

  /**
   * Links one sensor, in place of what was there; the same sensor again is tried again at once.
   * @param choose gives its port; called at once, because a browser's chooser must follow the coach's tap
   */
  async connect(segment: Segment, choose: () => Promise<SensorPort>): Promise<void> {
    let port: SensorPort;
    try {
      port = await choose();
    } catch (reason) {
      // A closed chooser leaves a link that is up, or being remade, as it is.
      if (this.#links.has(segment)) return;
      const error = explainConnectionFailure(reason, segment, false);
      this.#say(segment, { state: 'failed', error });
      return;
    }
    if (this.#closed) return;
    const there = this.#links.get(segment);
    // Its books go on: what it sent in between is asked for.
    if (there?.port.id === port.id) return there.start();
    // One sensor has one place: chosen for another segment it moves there.
    const inTheWay = SEGMENTS.filter((name) => {
      const link = this.#links.get(name);
      return link !== undefined && (name === segment || link.port.id === port.id);
    });
    const leaving = inTheWay.map((name) => this.#drop(name));
    const link = new SensorLink(segment, port, this.#clock, {
      record: (record) => this.#records.next(record),
      state: (state) => {
        if (this.#links.get(segment) === link) this.#say(segment, state);
      },
    });
    this.#links.set(segment, link);
    this.#say(segment, { state: 'connecting' });
    await Promise.all(leaving);
    // Another one may have been chosen meanwhile.
    if (this.#links.get(segment) === link) await link.start();
  }

  identify(segment: Segment): void {
    this.#links.get(segment)?.identify(BLINK_S);
  }

  async forget(segment: Segment): Promise<void> {
    const port = this.#links.get(segment)?.port;
    await this.#drop(segment);
    await port?.forget();
  }

  /** Ends every link, after what was under way. */
  async close(): Promise<void> {
    this.#closed = true;
    await Promise.all(SEGMENTS.map((segment) => this.#drop(segment)));
    this.#records.complete();
    this.#connections.complete();
  }

  async #drop(segment: Segment): Promise<void> {
    const link = this.#links.get(segment);
    this.#links.delete(segment);
    if (link === undefined) return;
    this.#say(segment, { state: 'absent' });
    await link.close();
  }

  #say(segment: Segment, state: ConnectionState): void {
    this.#connections.next({ ...this.#connections.value, [segment]: state });
  }
}
