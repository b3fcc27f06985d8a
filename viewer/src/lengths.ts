// Lengths as a maker reads them: the same steps and the same words as the program prints.

import type { Units } from "./record";

const INCH = 25.4;
const STEP: Record<Units, number> = { mm: 0.1, in: INCH / 64 };
const SLACK = 1e-6;

function halved(top: number, under: number): string {
  while (top % 2 === 0) {
    top /= 2;
    under /= 2;
  }
  return `${top}/${under}`;
}

/** A length without its unit: `412.8`, or `23-5/8`. */
export function lengthText(mm: number, units: Units): string {
  const step = STEP[units];
  const steps = Math.floor(mm / step + 0.5 + SLACK / step);
  const sign = steps < 0 ? "-" : "";
  const count = Math.abs(steps);
  if (units === "mm") {
    const tenth = count % 10;
    return `${sign}${Math.floor(count / 10)}${tenth ? `.${tenth}` : ""}`;
  }
  const whole = Math.floor(count / 64);
  const rest = count % 64;
  if (!rest) return `${sign}${whole}`;
  return `${sign}${whole ? `${whole}-` : ""}${halved(rest, 64)}`;
}

/** A length with its unit, in the piece's units and, where asked, in the others beside it. */
export function lengthInBoth(mm: number, units: Units): string {
  const other: Units = units === "mm" ? "in" : "mm";
  return `${lengthText(mm, units)} ${units} (${lengthText(mm, other)} ${other})`;
}

/** Length, width and thickness. */
export function sizeText(size: readonly number[], units: Units): string {
  return size.map((side) => lengthText(side, units)).join(" × ");
}

/** An angle to 0.1 degree. */
export function angleText(degrees: number): string {
  return `${degrees.toFixed(1)}°`;
}
