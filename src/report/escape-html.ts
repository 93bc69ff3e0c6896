const NAMED: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };

/** Text for HTML, SVG and the values of their attributes (always in double quotes). */
export const escapeHtml = (text: string): string => text.replace(/[&<>"']/g, (found) => NAMED[found] ?? found);
