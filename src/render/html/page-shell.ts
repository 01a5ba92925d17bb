import { html, type Markup } from './markup.ts';
import { STYLE, STYLE_SHA256 } from './style.ts';

/** Nothing may be loaded, run, framed or sent; the one style sheet is known by its hash. */
const POLICY = `default-src 'none'; style-src 'sha256-${STYLE_SHA256}'; base-uri 'none'; form-action 'none'`;

/** A page that needs nothing but itself. */
export function pageShell(title: string, body: Markup): string {
  const { markup } = html`<html lang="en">
<head>
<meta charset="utf-8"/>
<meta http-equiv="Content-Security-Policy" content="${POLICY}"/>
<meta name="viewport" content="width=device-width, initial-scale=1"/>
<meta name="color-scheme" content="light dark"/>
<meta name="referrer" content="no-referrer"/>
<title>${title}</title>
<style>${{ markup: STYLE }}</style>
</head>
<body>
<a class="skip" href="#report">To the report</a>
<main id="report">
${body}</main>
</body>
</html>
`;
  return `<!doctype html>\n${markup}`;
}
