import type { Move } from '../finding.js';

/**
 * The caution that goes with these moves; the hardest one that applies. Always: the press manual and site procedures govern.
 * null when nothing is turned. Source: TRADE section 9 (never a hand near a moving plate, gear or nip; coarse moves stopped and safe).
 */
export const caution = (moves: readonly Move[], dies: readonly string[] = []): string | null => {
  if (moves.length === 0) return null;
  const tooth = moves.some((move) => move.teeth !== 0);
  const die = moves.some((move) => dies.includes(move.station));
  if (tooth || die) {
    return `${tooth ? 'Tooth' : 'Die'} move: press stopped and made safe by site rules${tooth ? ', print thrown off before gears are parted' : ''}. Check the mesh, bring it on by inch as the press manual says, guards closed, then a new first-off. Site procedures govern.`;
  }
  return moves.every((move) => move.when === 'running')
    ? 'Turn the knob only. Hands out of the press, guards closed. Press manual and site rules first.'
    : 'At a stop, press made safe by site rules; running only if your site allows it for this knob. Hands out of the press, guards closed. Press manual first.';
};
