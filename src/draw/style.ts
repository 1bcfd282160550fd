/** The page's style sheet: a drawing-office sheet, ink on paper, thin rules, one accent. Screen, narrow, dark and A4 print. */
import { INK_STYLE, LETTERING, SANS, SERIF } from './ink.ts';

export const PAGE_STYLE = `${INK_STYLE}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:1180px;padding:28px 24px 48px;font:16px/1.5 ${SERIF};overflow-wrap:anywhere}
h1,h2,h3,h4{font-weight:600;line-height:1.2;margin:1.6em 0 .5em;text-wrap:balance}
h1{font-size:2rem;margin-top:0}
h2{font-size:1.5rem}
h3{font-size:1.15rem}
p,ul,ol,dl{margin:.5em 0;max-width:44em}
a{color:inherit}
code{font:.9em ui-monospace,'DejaVu Sans Mono',monospace}
header>p{color:var(--faint)}
.answer{border-top:3px solid var(--ink);border-bottom:1px solid var(--ink);padding:.4em 0 1em}
.answer .verdict{font-size:1.45rem;line-height:1.3;margin:.4em 0;max-width:32em}
.answer li,.answer p{max-width:46em}
.caution{border-left:3px solid var(--accent);padding-left:.8em}
ul.caution{padding-left:2em}
.note,figcaption,caption,.small-print{font:13px/1.45 ${SANS};color:var(--faint)}
figcaption strong,caption strong{color:var(--ink)}
svg{display:block;max-width:100%;height:auto}
figure{margin:1em 0;break-inside:avoid}
figcaption{margin-top:.4em;max-width:52em}
.plates{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,500px),1fr));gap:8px 28px}
.plates figure{border-top:1px solid var(--rule);padding-top:6px}
.row{display:flex;flex-wrap:wrap;gap:8px 36px;align-items:flex-start}
.row>*{flex:0 1 auto;max-width:100%}
.row>.stack{flex:1 1 420px}
.row>figure figcaption{contain:inline-size;min-width:100%}
.figures{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,340px),1fr));gap:6px 20px;padding:0;margin:0;list-style:none;max-width:none}
.figures figure{margin:.4em 0}
.wide{overflow-x:auto}
.broad table{min-width:600px}
table{border-collapse:collapse;font:13.5px/1.4 ${SANS};font-variant-numeric:tabular-nums;margin:.8em 0;overflow-wrap:normal}
caption{text-align:left;padding-bottom:.4em;caption-side:top}
th,td{padding:4px 14px 4px 0;text-align:left;vertical-align:top;border-top:1px solid var(--rule)}
tr>:last-child{padding-right:0}
thead th{border-top:1.5px solid var(--ink);border-bottom:1px solid var(--ink);vertical-align:bottom}
tbody:last-child tr:last-child>*{border-bottom:1px solid var(--ink)}
th{font-weight:600}
tbody th[scope=row]{font-weight:400}
th.group{font-weight:600;padding-top:12px}
.num{text-align:right;white-space:nowrap}
.say{display:block;font-size:12px;color:var(--faint);white-space:normal}
.num .say{white-space:nowrap}
.miss{color:var(--accent);font-weight:600}
figcaption .miss{font-weight:400}
.miss .say{color:var(--accent);font-weight:400}
td.text{min-width:13em;max-width:34em;overflow-wrap:anywhere}
th[scope=row]{min-width:9em;max-width:20em;overflow-wrap:anywhere}
thead th{max-width:13em;overflow-wrap:anywhere}
.sheet{border:1px solid var(--ink);padding:0 20px;margin-top:3em}
.sheet>h2{margin:0 -20px;padding:.55em 20px .5em;border-bottom:1px solid var(--ink)}
.titleblock{margin:2em -20px 0;border-top:1px solid var(--ink);display:flex;justify-content:flex-end}
.titleblock table{margin:0;border-left:1px solid var(--ink);max-width:100%}
.titleblock th,.titleblock td{border:0;border-top:1px solid var(--rule);padding:3px 12px;vertical-align:middle}
.titleblock tr:first-child>*{border-top:0}
.titleblock th{font-weight:400;color:var(--faint);min-width:0}
.titleblock tbody:last-child tr:last-child>*{border-bottom:0}
summary{font:14px/1.4 ${SANS};cursor:pointer;margin:.8em 0}
footer{margin-top:3em;border-top:1px solid var(--ink)}
${LETTERING.trim()}
@media (max-width:640px){body{padding:16px 14px 32px}h1{font-size:1.6rem}.sheet{padding:0 12px}.sheet>h2{margin:0 -12px;padding:.5em 12px}.titleblock{margin:2em -12px 0}}
@media print{
@page{size:A4;margin:8mm 12mm}
html{-webkit-print-color-adjust:exact;print-color-adjust:exact}
body{max-width:none;padding:0;font-size:10.5pt}
h1{font-size:20pt}h2{font-size:15pt}h3{font-size:12pt}
h2,h3,h4,caption{break-after:avoid}
table{font-size:8.5pt}.say,.note,figcaption,caption,.small-print{font-size:8pt}
th,td{padding-right:8px}
tr,li{break-inside:avoid}
thead{display:table-header-group}
.sheet{break-before:page;border:0;padding:0;margin-top:0}
.sheet>h2,.titleblock{margin-left:0;margin-right:0;padding-left:0}
.titleblock{break-inside:avoid;break-before:avoid}.sheet ul.caution{break-inside:avoid;break-after:avoid}
.titleblock table{border-right:1px solid var(--ink);border-bottom:1px solid var(--ink)}
.wide{overflow:visible}
.ledger,.workings{break-before:page}
.row{display:block;orphans:1;widows:1}.row>*{display:inline-block;vertical-align:top;margin-right:6mm}
h2{margin:.2em 0 .1em}.sheet>h2{padding-top:.2em;padding-bottom:.2em}h3{margin:.5em 0 .1em}figure{margin:.2em 0}.sheet>p{margin:.2em 0;line-height:1.3}.titleblock{margin-top:.6em}
.plates{grid-template-columns:1fr}.plates.pairs{grid-template-columns:1fr 1fr}
.figures{grid-template-columns:1fr 1fr}
details::details-content{content-visibility:visible;display:block}summary{list-style:none}
td.text{min-width:0}
}
`;
