/**
 * What came off the wire, made safe to show on a terminal or print in a report: control bytes, escape sequences, bidirectional marks and
 * everything beyond printable ASCII stand as <1B>, long text is cut and says how much is missing.
 */
export const wireText = (raw: string, longest = 80): string => {
  const shown = raw.length > longest ? raw.slice(0, longest) : raw;
  const safe = shown.replace(
    /[^\x20-\x7e]/g,
    (c) => `<${c.charCodeAt(0).toString(16).toUpperCase().padStart(2, '0')}>`,
  );
  return raw.length > longest ? `${safe}... (${raw.length - longest} more)` : safe;
};
