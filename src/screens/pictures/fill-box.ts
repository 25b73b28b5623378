import type { RefObject } from 'preact';
import { useEffect, useState } from 'preact/hooks';

/** Whole width of a box in pixels, kept up to date; 0 until it is known. */
export function useWidth(box: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const measure = (): void => setWidth(Math.floor(element.clientWidth));
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    measure();
    return () => observer.disconnect();
  }, [box]);
  return width;
}
