const LIGHT = `--paper:#fbfaf7;--panel:#f1efe9;--ink:#1c2024;--soft:#525b63;--rule:#d3d0c8;--link:#134a8e;
--fail:#a01822;--warn:#7d4e00;--pass:#0a5a63;--na:#4c545b;
--fail-tint:#d94f3d;--warn-tint:#d99a00;--minus:#3f78b5;--plus:#c07b1e;
--s0:#114b8c;--s1:#a63a0a;--s2:#5c2c8a;--s3:#17694d;--s4:#6b5e00;--s5:#8b1c5c;`;

const DARK = `--paper:#15181b;--panel:#1f2428;--ink:#e8ebec;--soft:#a9b3ba;--rule:#3b444b;--link:#8dbdf5;
--fail:#ff8d82;--warn:#f0bb48;--pass:#5cc7d1;--na:#b3bdc4;
--fail-tint:#e8604e;--warn-tint:#cf9a1d;--minus:#4d86c4;--plus:#bd7f2a;
--s0:#7fb8f2;--s1:#f59b68;--s2:#c9a6ef;--s3:#66cda1;--s4:#d8cb5b;--s5:#f196c7;`;

/** The whole style sheet. Verdicts and lines differ in shape, word or dashes first and in colour second. */
export const STYLE = `
:root{color-scheme:light dark;${LIGHT}}
@media screen and (prefers-color-scheme:dark){:root{${DARK}}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,sans-serif;overflow-wrap:anywhere}
main{max-width:1160px;margin:0 auto;padding:20px 20px 60px}
h1,h2,h3,h4{line-height:1.25;margin:0 0 .5em;text-wrap:balance}
h1{font-size:1.7rem}h2{font-size:1.3rem}h3{font-size:1.05rem}h4{font-size:.95rem}
p,ul,ol,dl{margin:0 0 .7em}
ul{padding-left:1.4em}
ol{padding-left:2.2em}
li{margin:.15em 0}
a{color:var(--link)}
a:focus-visible,.scroll:focus-visible{outline:3px solid var(--link);outline-offset:2px}
code{font:.82em ui-monospace,monospace;color:var(--soft);overflow-wrap:anywhere}
.skip{position:absolute;left:-999px}
.skip:focus{left:8px;top:8px;padding:8px;background:var(--paper)}
.headline{display:flex;gap:18px;align-items:flex-start;border:2px solid;border-left-width:12px;padding:16px 18px;margin:0 0 14px;background:var(--panel)}
.headline>.mark{width:64px;height:64px;flex:none}
.headline h1,.headline h2{margin:0 0 .3em}
.headline p{margin:0 0 .4em}
.headline>div>*{color:var(--ink)}.headline .where{color:var(--soft)}
.gate{display:block;font-size:1.25em;letter-spacing:.04em}
.log{font-weight:500;font-size:.75em}
.pass{color:var(--pass)}.warn{color:var(--warn)}.fail{color:var(--fail)}.not-assessed{color:var(--na)}
.headline.not-assessed{border-style:dashed}
.headline.warn,.card.warn,.derivation.warn{border-style:double}
.headline.warn{border-width:4px 4px 4px 12px}
.mark{width:1.15em;height:1.15em;vertical-align:-.2em;fill:currentColor}
.mark .inside{fill:none;stroke:var(--paper);stroke-width:2.6;stroke-linecap:round;stroke-linejoin:round}
.mark .open{fill:none;stroke:currentColor;stroke-width:2;stroke-dasharray:4 3}
.mark .bare{fill:none;stroke:currentColor;stroke-width:2.6}
.verdict{font-weight:700;white-space:nowrap}
.verdict .mark{margin-right:.35em}
.tally{list-style:none;display:flex;flex-wrap:wrap;gap:4px 18px;padding:0;margin:0;font-weight:600}
.tally .mark{margin-right:.35em}
.headline .tally .pass{color:var(--pass)}.headline .tally .warn{color:var(--warn)}.headline .tally .fail{color:var(--fail)}.headline .tally .not-assessed{color:var(--na)}
.caution{border:2px dashed var(--warn);padding:10px 14px}
nav ul{list-style:none;display:flex;flex-wrap:wrap;gap:4px 16px;padding:0;font-size:.9rem}
.part{margin-top:30px;border-top:1px solid var(--rule);padding-top:14px}
.cards{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,330px),1fr));gap:14px}
.card,.derivation{border:1px solid;border-left-width:8px;padding:12px 16px}
.derivation{margin:0 0 16px}
.card>*,.derivation>*{color:var(--ink)}
.card h3,.card h4,.derivation h3,.derivation h4{margin:0 0 .4em}
.card .verdict.fail,.derivation .verdict.fail{color:var(--fail)}
.card p{margin:0 0 .4em}
.card .ways{display:flex;flex-wrap:wrap;gap:2px 16px}
.where{color:var(--soft)}
.facts,.inputs{display:grid;grid-template-columns:max-content 1fr;gap:2px 14px}
dt{font-weight:600;color:var(--soft)}
dd{margin:0}
.scroll{overflow-x:auto;margin:0 0 18px}
table{border-collapse:collapse;font-size:.9rem;min-width:min(100%,36em)}
caption{text-align:left;font-weight:600;padding:0 0 6px;caption-side:top}
caption>div{max-width:min(70em,calc(100vw - 44px))}
th,td{padding:5px 10px;border-bottom:1px solid var(--rule);text-align:left;vertical-align:top;overflow-wrap:normal}
thead th{border-bottom:2px solid var(--soft);color:var(--soft);font-weight:600;vertical-align:bottom}
tbody th{font-weight:600}
.number{text-align:right;font-variant-numeric:tabular-nums}
.gauge{width:160px;height:22px;display:block}
.card .gauge{width:min(100%,320px);height:44px}
.gauge .rail{stroke:var(--rule);stroke-width:1}
.gauge .bar{fill:currentColor}
.gauge .whisker{fill:none;stroke:var(--ink);stroke-width:1.5}
.gauge .limit{stroke-width:2;fill:none;stroke:var(--ink)}
.gauge .limit.warn{stroke-dasharray:3 2}
.pair{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,440px),1fr));gap:14px 24px;margin:0 0 14px}
.pull{margin-top:22px}
.figure{width:100%;height:auto;display:block}
.figure text{font:12px system-ui,sans-serif;fill:var(--ink);paint-order:stroke;stroke:var(--paper);stroke-width:2.5px;stroke-linejoin:round;stroke-opacity:.8}
.figure .title{font-size:13px;font-weight:700}
.figure .tick,.figure .label,.figure .note{fill:var(--soft)}
.figure .end{text-anchor:end}
.figure .middle{text-anchor:middle}
.figure .note{font-size:11.5px}
.figure .grid{stroke:var(--rule);fill:none;stroke-width:.7}
.figure .axis{stroke:var(--soft);fill:none}
.figure .line{fill:none;stroke-width:1.9;stroke-linejoin:round;stroke-linecap:round}
.s0{stroke:var(--s0)}.s1{stroke:var(--s1);stroke-dasharray:7 3}.s2{stroke:var(--s2);stroke-dasharray:2 3}.s3{stroke:var(--s3);stroke-dasharray:9 3 2 3}.s4{stroke:var(--s4);stroke-dasharray:4 4}.s5{stroke:var(--s5);stroke-dasharray:12 4}
.figure text.number{font-weight:700;stroke:var(--paper);stroke-dasharray:none}
.figure .number.s0{fill:var(--s0)}.figure .number.s1{fill:var(--s1)}.figure .number.s2{fill:var(--s2)}.figure .number.s3{fill:var(--s3)}.figure .number.s4{fill:var(--s4)}.figure .number.s5{fill:var(--s5)}
.figure .settled{stroke:var(--ink);stroke-width:4;stroke-opacity:.35}
.figure .target{fill:none;stroke:var(--ink);stroke-width:1.4;stroke-dasharray:2 4}
.figure .ceiling{fill:none;stroke:var(--fail);stroke-width:1.8;stroke-dasharray:14 3}
.figure .limit{fill:none;stroke-width:1.2}
.figure .limit.warn{stroke:var(--warn);stroke-dasharray:5 4}
.figure .limit.fail{stroke:var(--fail)}
.figure .band.warn{fill:var(--warn-tint);fill-opacity:.1}
.figure .band.fail{fill:var(--fail-tint);fill-opacity:.13}
.figure .stretch{stroke-width:1.2}
.figure .stretch.warn{fill:var(--warn-tint);fill-opacity:.22;stroke:var(--warn);stroke-dasharray:3 2}
.figure .stretch.fail{fill:var(--fail-tint);fill-opacity:.22;stroke:var(--fail)}
.figure .told{font-weight:700;font-size:11.5px}
.figure .reach.fail{stroke:var(--fail);stroke-width:3;stroke-opacity:1;stroke-linecap:butt}.figure .reach.warn{stroke:var(--warn);stroke-width:3;stroke-opacity:1;stroke-linecap:butt;stroke-dasharray:5 2}
.figure .edge{font-size:11px;fill:var(--soft)}.figure .at-fail,.figure .at-ceiling{fill:var(--fail)}.figure .at-warn{fill:var(--warn)}
.figure .pointer{fill:none;stroke:var(--soft);stroke-width:.8}
.figure .told.fail{fill:var(--fail)}.figure .told.warn{fill:var(--warn)}
.words{min-width:15em}
.cause small{color:var(--soft);font-weight:400}
.cause dd p{margin:0 0 .2em}
.figure .dot{stroke:var(--paper);stroke-width:1}
.figure .dot.now{fill:var(--soft)}.figure .dot.then{fill:var(--s0)}
.figure .reach{stroke-width:3;stroke-linecap:round;stroke-opacity:.55}
.figure .reach.now{stroke:var(--soft)}.figure .reach.then{stroke:var(--s0)}
.figure .room{fill:var(--s0);fill-opacity:.55}
.figure .doubt{fill:var(--warn-tint);fill-opacity:.5;stroke:var(--warn);stroke-dasharray:3 2}
.figure .post{fill:none;stroke:var(--ink);stroke-width:1.3}
.figure .post.now{stroke-dasharray:2 3}.figure .post.end{stroke:var(--soft);stroke-dasharray:8 4}
.short{list-style:none;padding:0;display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,300px),1fr));gap:2px 18px}
.cell{display:block;position:relative;min-width:82px;padding:4px 6px;border-left:6px solid var(--rule)}
.cell b,.cell small{display:block;color:var(--ink)}
.cell small{font-size:.75rem;color:var(--soft)}
.cell small span{white-space:nowrap}
.cell.slight{border-left-style:dotted}
.cell.slight b{font-weight:400;font-style:italic}
.cell.none{border-left-color:transparent}
.minus1,.minus2,.minus3{border-left-color:var(--minus);background:color-mix(in srgb,var(--minus) 14%,transparent)}
.plus1,.plus2,.plus3{border-left-color:var(--plus);background:color-mix(in srgb,var(--plus) 14%,transparent)}
.minus2{background:color-mix(in srgb,var(--minus) 28%,transparent)}
.plus2{background:color-mix(in srgb,var(--plus) 28%,transparent)}
.minus3{background:color-mix(in srgb,var(--minus) 42%,transparent);border-left-width:12px}
.plus3{background:color-mix(in srgb,var(--plus) 42%,transparent);border-left-width:12px}
.cell.slight{background:none;border-left-width:4px}
.minus2 small,.plus2 small,.minus3 small,.plus3 small{color:var(--ink)}
.checks{list-style:none;padding:0}
.checks li{display:flex;gap:12px;align-items:baseline;padding:7px 0;border-bottom:1px solid var(--rule)}
.checks span{flex:1}
.box{width:1.1em;height:1.1em;flex:none;align-self:center;fill:none;stroke:var(--ink);stroke-width:1.5}
.box path{stroke-width:2.4}
.sign{display:grid;grid-template-columns:3fr 1fr;gap:44px 24px;margin-top:44px;break-inside:avoid}
.sign p{border-top:1px solid var(--ink);padding-top:4px;color:var(--soft)}
.fine{font-weight:400;font-size:.85rem;color:var(--soft)}
.one-log{margin-top:48px}
@media screen and (max-width:600px){main{padding:12px 12px 40px}.headline{padding:12px;gap:12px}.headline>.mark{width:40px;height:40px}.facts,.inputs{grid-template-columns:1fr}h1{font-size:1.35rem}}
@page{margin:14mm 13mm}
@media print{
*{-webkit-print-color-adjust:exact;print-color-adjust:exact}
body{font-size:10.5pt;background:none}
main{max-width:none;padding:0}
nav,.skip{display:none}
a{color:inherit;text-decoration:none}
.part{margin-top:16px;padding-top:8px}
h1,h2,h3,h4,caption{break-after:avoid}
.headline,.card,.figure,.pull .pair,tr,.checks li,.next ol,.trims .scroll,.cause{break-inside:avoid}
.pair{grid-template-columns:1fr 1fr;gap:8px 14px}
.figure .tick,.figure .note{font-size:12.5px}
.scroll{overflow:visible}
caption>div{max-width:none}
table{font-size:8.5pt}
th,td{padding:2px 5px;overflow-wrap:break-word}
.words{min-width:9em}
.cell{min-width:0}
.pull .pair{max-width:660px}
.handback,.handback p,.handback li{font-size:8.5pt;line-height:1.3}
.handback .fine,.handback .fine *{font-size:7pt}
.handback h3{margin:6px 0 2px}
.handback ul,.handback p,.handback dl{margin-bottom:3px}
.handback .checks li{padding:1px 0}
.handback code{display:block;font-size:7pt}
.short{grid-template-columns:1fr 1fr}
.sign{gap:30px 24px;margin-top:34px}
.gauge{width:110px}
.handback,.one-log{break-before:page}
}
`;

/** SHA-256 of the sheet in base64, by which the page's policy knows it; a test holds the two together. */
export const STYLE_SHA256 = 'nfp1B+TDMRdrf8OLfejAkD6EHsloppBGHxSLj+ziWyw=';
