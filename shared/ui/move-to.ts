/** Owns writing where something stands at a frame: only where that has changed. */

/** @param transform as the element itself says it back, so that it is not written twice */
export function moveTo(element: HTMLElement | SVGElement | null, transform: string): void {
  if (element && element.style.transform !== transform) element.style.transform = transform;
}
