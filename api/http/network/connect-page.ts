import { html } from 'hono/html';
import type { DrawnCode } from './drawn-code.ts';

// A page without scripts, served over plain HTTP too: it is what a device sees before it trusts this server.

type Html = ReturnType<typeof html>;

/** What the page tells of an open server. */
export interface ConnectFacts {
  /** `https://192.168.7.5:8143/` and the like, the likeliest first */
  readonly addresses: readonly string[];
  /** where this page is reached without trusting anything yet */
  readonly pageAddress: string;
  /** an address as a square code */
  readonly drawCode: (address: string) => DrawnCode;
  readonly authority: { readonly name: string; readonly fingerprint: string; readonly notAfter: Date };
}

/** The steps for another device; `undefined`: the server is not open to the network. */
export function writeConnectPage(facts: ConnectFacts | undefined): Html {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Work on another device · lugwright</title>
<link rel="stylesheet" href="/connect/style.css">
</head>
<body>
<main>
<h1>Work on another device</h1>
${facts === undefined ? writeClosed() : writeOpen(facts)}
</main>
</body>
</html>`;
}

function writeClosed(): Html {
  return html`<p>This server is not open to the network: it answers on this machine only.</p>
<p>To open it, stop it and start it again with</p>
<p><code>npm start -- --network</code></p>
<p>Then this page shows the address as a code for a telephone’s camera, and the steps to trust the server. Use from the network needs a name and a PIN: make them in the settings on this machine, or with <code>npx --no lugwright person add NAME</code>.</p>`;
}

function writeOpen({ addresses, pageAddress, authority, drawCode }: ConnectFacts): Html {
  const [address] = addresses;
  if (address === undefined) {
    return html`<p>This machine has no address on a network of its own: join it to the shop’s network, by cable or by radio, and load this page again.</p>`;
  }
  return html`<p>A telephone or tablet beside the machine keeps everything of a job while there is no signal. For that its browser has to trust this server, once.</p>
<ol class="steps">
<li><h2>Open this page on the device</h2>
<p>The device has to be on the same network. Point its camera here, or type the address:</p>
${writeCode(pageAddress, drawCode)}</li>
<li><h2>Fetch the shop’s certificate</h2>
<p><a class="button" href="/connect/authority.crt" download>Certificate of this shop’s server</a></p>
<p>It is named “${authority.name}” and holds until ${writeDay(authority.notAfter)}. It can vouch for addresses of a local network only, never for a place on the Internet.</p></li>
<li><h2>Compare its fingerprint</h2>
<p>The device shows it before it trusts the certificate, under “details” or “SHA-256”. It has to be the one that the machine itself shows: where the server was started, and on this page opened there.</p>
<p class="fingerprint"><code>${writeFingerprintLines(authority.fingerprint).map((line, index) => html`${index === 0 ? '' : html`<br>`}${line}`)}</code></p>
<p class="not"><strong>If it differs, stop:</strong> somebody stands between the device and this server.</p></li>
<li><h2>Trust it</h2>
<dl>
<dt>Telephone or tablet</dt>
<dd>Open the file that was fetched. Where nothing happens, look in the device’s settings for <em>security</em>, then <em>certificates</em> or <em>credentials</em>, and install it as a certificate of an <em>authority</em> (it may be called CA). Some devices put it among <em>profiles</em>, in the general settings: install it there, then look under <em>about</em> for <em>trusted certificates</em> and switch it on.</dd>
<dt>Computer</dt>
<dd>Open the file and add it to the <em>trusted root authorities</em> of the system. A browser that keeps its own list has it in its settings under <em>certificates</em>, <em>authorities</em>: import it there and allow it to identify websites.</dd>
</dl>
<p>To take it back later, remove the certificate of the same name at the same place.</p></li>
<li><h2>Open the shop</h2>
${writeCode(address, drawCode)}
<p>Sign in with your name and PIN, then add the page to the device’s home screen from the browser’s menu.</p>
${addresses.length > 1 ? html`<p>It answers as well at</p><ul>${addresses.slice(1).map((other) => html`<li><a href="${other}">${other}</a></li>`)}</ul>` : ''}</li>
</ol>`;
}

function writeCode(address: string, drawCode: ConnectFacts['drawCode']): Html {
  const { size, path } = drawCode(address);
  return html`<figure><svg viewBox="0 0 ${size} ${size}" role="img" aria-label="The address ${address} as a code"><rect width="${size}" height="${size}" fill="#fff"/><path d="${path}" fill="#000"/></svg>
<figcaption><a href="${address}">${address}</a></figcaption></figure>`;
}

/** As devices show it, eight bytes a line, so that two people can compare it. */
export function writeFingerprintLines(fingerprint: string): string[] {
  return fingerprint.match(/(?:[\dA-F]{2}:?){8}/g)!.map((line) => line.replaceAll(':', ' ').trim());
}

function writeDay(date: Date): string {
  return date.toISOString().slice(0, 10);
}

/** The style of the page, in the colours of the screens; it is served on its own because this server's pages allow no style inside. */
export const CONNECT_STYLE = `@font-face { font-family: B612; src: url(/connect/b612-400.woff2) format('woff2'); font-weight: 400; }
@font-face { font-family: B612; src: url(/connect/b612-700.woff2) format('woff2'); font-weight: 700; }
:root { color-scheme: light dark; --paper: #f8f3e7; --ink: #1b2430; --ink-2: #4d5663; --hair: #cfc5ae; --do: #14509e; --not: #a8160f; }
@media (prefers-color-scheme: dark) { :root { --paper: #0d2d52; --ink: #eaf2fa; --ink-2: #b4c9de; --hair: #2d5074; --do: #ffd369; --not: #ffa595; } }
body { margin: 0; font: 1rem/1.45 B612, 'DejaVu Sans', Verdana, sans-serif; color: var(--ink); background: var(--paper); }
main { max-width: 44rem; margin: 0 auto; padding: 1rem 1rem 3rem; }
h1 { font-size: 1.625rem; line-height: 1.2; }
h2 { font-size: 1.25rem; line-height: 1.2; margin: 0 0 .5rem; }
a { color: var(--do); overflow-wrap: anywhere; }
:focus-visible { outline: 3px solid var(--do); outline-offset: 2px; }
code { font-family: 'B612 Mono', 'DejaVu Sans Mono', monospace; }
.steps { list-style: none; counter-reset: step; padding: 0; }
.steps > li { counter-increment: step; border-top: 1.5px solid var(--ink); padding: 1rem 0 .75rem; }
.steps > li > h2::before { content: counter(step) '. '; }
.button { display: inline-flex; align-items: center; min-height: 3rem; padding: 0 1rem; border: 1.5px solid currentcolor; border-radius: 2px; text-decoration: none; font-weight: 700; }
figure { margin: .5rem 0 1rem; }
figure svg { display: block; width: min(14rem, 60vw); height: auto; border: 1px solid var(--hair); }
figcaption { margin-top: .5rem; font-weight: 700; }
figcaption a, li li a { display: inline-block; min-height: 1.5rem; padding: .25rem 0; }
.fingerprint code { font-size: 1.125rem; line-height: 1.6; }
.not { border-left: 4px double var(--not); padding-left: .75rem; }
.not strong { color: var(--not); }
dt { font-weight: 700; margin-top: .5rem; }
dd { margin: .15rem 0 .5rem; }
`;
