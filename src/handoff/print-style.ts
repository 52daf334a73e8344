/** How the printed page looks: black on white, one page of A4 or Letter, one column on a phone. */
export const printStyle = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
html { background: #fff; }
body { margin: 0 auto; padding: 1rem; max-width: 60rem; color: #14202b; background: #fff;
  font: 1rem/1.4 "DejaVu Sans", Verdana, Arial, sans-serif; overflow-wrap: break-word; }
h1 { font-size: 1.4rem; line-height: 1.2; margin: 0 0 .2rem; }
h2 { font-size: 1rem; margin: 0 0 .25rem; border-bottom: 1px solid #4d5863; break-after: avoid; }
section { padding-top: .9rem; }
p, ul, ol, dl, dd { margin: 0; }
ul, ol { padding-left: 1.3em; }
li { margin: .1em 0; }
.meta { color: #4d5863; }
.danger { border: 3px solid #4d5863; padding: .4rem .7rem .5rem; margin-top: .6rem; }
.danger h2 { border: 0; }
.danger.stop { border-color: #9c1414; border-width: 6px; }
.stop-line { font-size: 1.25rem; font-weight: bold; color: #9c1414; }
.caution-line, .urgent { font-weight: bold; }
.lead { font-size: 1.1rem; font-weight: bold; }
.lead::first-letter { text-transform: uppercase; }
dl { display: grid; grid-template-columns: max-content 1fr; column-gap: .7em; margin-top: .3rem; }
dt { color: #4d5863; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .15rem .5rem .15rem 0; border-bottom: 1px solid #c3cad1; }
thead th { color: #4d5863; font-weight: normal; }
tbody th { font-weight: normal; }
.verdict { white-space: nowrap; font-weight: bold; }
.verdict svg { width: 1.1em; height: 1.1em; vertical-align: -.2em; margin-right: .3em; }
figure { margin: .5rem 0 0; }
figure svg { display: block; width: 100%; max-width: 22rem; height: auto; border: 1px solid #c3cad1; }
@media (max-width: 30rem) { table { font-size: .9rem; } }
@media (min-width: 48rem) {
  .columns { columns: 2; column-gap: 1.6rem; }
  .columns section { break-inside: avoid; }
}
@page { margin: 9mm; }
@media print {
  body { max-width: none; padding: 0; font-size: 9.3pt; line-height: 1.28; }
  h1 { font-size: 15pt; }
  h2 { font-size: 9.3pt; margin-bottom: .6mm; }
  section { padding-top: 2mm; }
  .danger { padding: 1.2mm 2.5mm 1.6mm; margin-top: 1.5mm; }
  .stop-line { font-size: 13pt; }
  .lead { font-size: 10.5pt; }
  .columns { columns: 2; column-gap: 6mm; }
  .columns section { break-inside: avoid; }
  figure svg { max-width: 54mm; }
  .short { columns: 2; }
  li, tr, figure { break-inside: avoid; }
}
`;
