// Which protocol is spoken with this desk: the newest that both know. A desk set back to the version before is served in that.
const SPEAKS = [2, 1];
let now = 2;

export const proto = (): number => now;

/** The line came back: another desk version may stand there, so the newest is tried again. */
export const newest = (): void => {
  now = 2;
};

/** The desk told what it speaks. True when there is one to go on with that was not tried just now. */
export function agree(desk: unknown): boolean {
  const common = SPEAKS.find((one) => Array.isArray(desk) && desk.includes(one));
  if (common === undefined || common === now) return false;
  now = common;
  return true;
}
