/** One look for every page: black on white, prints on A4 and on Letter, wraps on a phone; nothing is said by colour alone. */
export const PAGE_STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 54rem; font: 1rem/1.45 system-ui, sans-serif; color: #1a1a1a; background: #ffffff; overflow-wrap: anywhere; }
h1 { font-size: 1.5rem; margin: 0 0 .25rem; }
h2 { font-size: 1.15rem; margin: 1.6rem 0 .5rem; border-bottom: 2px solid #1a1a1a; }
h3 { font-size: 1rem; margin: 1rem 0 .25rem; }
p { margin: .4rem 0; }
ul { margin: .3rem 0; padding-left: 1.2rem; }
.strong { font-weight: bold; }
#thirty-seconds { border: 3px solid #1a1a1a; padding: 0 1rem .75rem; margin-top: 1rem; }
#thirty-seconds h2 { margin-top: .6rem; }
.ticks { list-style: none; padding-left: 0; }
.ticks li::before { content: "\\2610"; padding-right: .5rem; }
dl { display: grid; grid-template-columns: 7rem 1fr; gap: .15rem .75rem; margin: .3rem 0; }
dt { grid-column: 1; font-weight: bold; }
dd { grid-column: 2; margin: 0; }
.wide { overflow-x: auto; margin: .6rem 0; }
table { border-collapse: collapse; width: 100%; overflow-wrap: normal; }
caption { text-align: left; font-weight: bold; padding-bottom: .25rem; }
th, td { text-align: left; vertical-align: top; padding: .2rem .6rem .2rem 0; border-bottom: 1px solid #8a8a8a; max-width: 24rem; }
td, tbody th { overflow-wrap: normal; }
tbody th { font-weight: normal; }
.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
figure { margin: .8rem 0; break-inside: avoid; overflow-x: auto; }
svg { display: block; height: auto; max-width: 100%; }
.own { font-size: 1.25em; }
.own h2 { font-size: 1.8em; }
.own dl { grid-template-columns: 8rem 1fr; }
@media (max-width: 30rem) { svg { min-width: 32rem; } dl { grid-template-columns: 1fr; } dd { grid-column: 1; padding-left: 1rem; } body { padding: .6rem; } }
@page { margin: 14mm 14mm 16mm; }
@media screen { .foot { font-size: .8rem; } }
@media print { .foot { display: none; } }
@media print {
  html { font-size: 9.5pt; }
  body { max-width: none; padding: 0; }
  .own + .own { break-before: page; }
  .own { font-size: 1.6em; }
  .own dl { grid-template-columns: 10rem 1fr; row-gap: .5rem; }
  h2, h3, caption { break-after: avoid; }
  tr, dl, li { break-inside: avoid; }
  h3 + p { break-after: avoid; }
  .wide, figure { overflow: visible; }
  h2 { margin-top: 1rem; }
  table { font-size: 9pt; }
  th, td { padding: .1rem .5rem .1rem 0; }
  figure { margin: .4rem 0; }
  figure svg { width: 150mm; min-width: 0; }
}
`;
