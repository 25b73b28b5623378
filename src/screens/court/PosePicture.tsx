/** The two holds. */
export type Pose = 'plumb' | 'point';

/** A line drawing of the arm in one of the two holds, sensors as small blocks. */
export function PosePicture({ pose }: { readonly pose: Pose }) {
  return (
    <svg
      class="pose-picture"
      viewBox={pose === 'plumb' ? '20 0 80 120' : '4 14 116 90'}
      aria-hidden="true"
    >
      {pose === 'plumb' ? <Hanging /> : <Pointing />}
    </svg>
  );
}

function Hanging() {
  return (
    <>
      <circle cx="40" cy="16" r="11" class="pose-body" />
      <path d="M40 28V74" class="pose-body" />
      <path d="M52 34V56V74" class="pose-arm" />
      <path d="M52 76V116" class="pose-implement" />
      <path d="M46 43h12M46 65h12M46 84h12" class="pose-sensor" />
      <path d="M88 34V104M80 94l8 12l8-12" class="pose-hint" />
    </>
  );
}

function Pointing() {
  return (
    <>
      <circle cx="22" cy="30" r="11" class="pose-body" />
      <path d="M22 42V92" class="pose-body" />
      <path d="M24 52H60" class="pose-arm" />
      <path d="M61 52H96" class="pose-implement" />
      <path d="M33 46v12M51 46v12M68 46v12" class="pose-sensor" />
      <path d="M114 30v44" class="pose-hint" />
      <path d="M58 48v-12" class="pose-arm" />
      <path d="M30 78H98M88 70l12 8l-12 8" class="pose-hint" />
    </>
  );
}
