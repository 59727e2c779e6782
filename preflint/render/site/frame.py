"""What every page of the site has: its head, its way back, its look. Nothing is fetched, and nothing else may run.

The policy in each page's head allows the one style, and the one script of the index, by their hashes alone.
"""

import base64
import hashlib
from html import escape

from preflint.render.escape import printable

STYLE = """
:root { color-scheme: light dark; --paper: #f7f5ee; --ink: #1b1f1d; --faint: #434a41; --line: #8b8f80;
  --sheet: #eceadd; --link: #0b4a6f }
@media (prefers-color-scheme: dark) { :root { --paper: #171a18; --ink: #eceade; --faint: #b3b6a6; --line: #7d8274;
  --sheet: #242925; --link: #9ccfec } }
* { box-sizing: border-box }
body { margin: 0 auto; padding: 1rem 1.2rem 4rem; max-width: 46rem; background: var(--paper); color: var(--ink);
  font: 1.05rem/1.55 Georgia, serif }
a { color: var(--link); text-underline-offset: 0.15em }
a:focus-visible, input:focus-visible, pre:focus-visible { outline: 3px solid var(--link); outline-offset: 2px }
nav { font: 0.95rem/1.8 sans-serif; border-bottom: 1px dashed var(--line); padding-bottom: 0.4rem }
nav a { margin-right: 1.2rem }
h1, h2, h3 { font-family: sans-serif; line-height: 1.25; margin: 1.8rem 0 0.5rem }
h1 { font-size: 1.6rem } h2 { font-size: 1.15rem } h3 { font-size: 1rem }
h1 code, h2 code, h3 code { font-size: 0.95em }
.asks { font-size: 1.2rem; margin: 0 0 1.2rem }
pre { background: var(--sheet); border-left: 0.35rem double var(--line); padding: 0.7rem 0.9rem; overflow-x: auto;
  font-size: 0.88rem; line-height: 1.45 }
code { overflow-wrap: anywhere } pre code { overflow-wrap: normal }
.sort { font: bold 0.8rem/1 sans-serif; border: 2px solid var(--ink); padding: 0.15rem 0.45rem; white-space: nowrap }
.sort.no-go { background: var(--ink); color: var(--paper) }
.sort.caution { border-style: double; border-width: 4px }
.sort.advisory { border-style: dotted }
.flight { font: 0.85rem/1 sans-serif; color: var(--faint); white-space: nowrap }
dt { font: bold 0.9rem/1.4 sans-serif; margin-top: 0.8rem }
dd { margin: 0.1rem 0 0 1.2rem }
.rules { list-style: none; margin: 0; padding: 0 }
.rules li { padding: 0.55rem 0; border-bottom: 1px dashed var(--line) }
.rules li span + span { margin-left: 0.5rem }
.rules p { margin: 0.2rem 0 0 }
.mind { border: 2px solid var(--ink); padding: 0.6rem 0.9rem }
label { font: bold 0.95rem sans-serif; display: block }
input { font: 1.05rem sans-serif; width: 100%; padding: 0.5rem; color: inherit; background: var(--sheet);
  border: 2px solid var(--line) }
[hidden] { display: none }
footer { margin-top: 3rem; color: var(--faint); font-size: 0.9rem; border-top: 1px dashed var(--line) }
"""

SCRIPT = """
"use strict";
const box = document.getElementById("search"), told = document.getElementById("told");
const rules = Array.from(document.querySelectorAll("li[data-words]"));
function choose() {
  const words = box.value.toLowerCase().split(/\\s+/).filter(Boolean);
  let shown = 0;
  for (const rule of rules) {
    const text = (rule.textContent + " " + rule.dataset.words).toLowerCase();
    rule.hidden = !words.every((word) => text.includes(word));
    shown += rule.hidden ? 0 : 1;
  }
  for (const topic of document.querySelectorAll("section.topic"))
    topic.hidden = !topic.querySelector("li:not([hidden])");
  document.getElementById("topics").hidden = words.length > 0;
  told.textContent = words.length ? shown + " of " + rules.length + " rules" : "";
}
box.addEventListener("input", choose);
document.getElementById("finder").hidden = false;
choose();
"""

_PAGES = (("index.html", "Rules"), ("records.html", "Kinds of record"), ("limits.html", "Limits"))


def text(told: str) -> str:
    """Any words as HTML shows them, on one line: no mark-up, nothing invisible, nothing that turns letters round."""
    return escape(printable(told))


def page(name: str, title: str, body: str, tool: str, script: bool = False) -> str:
    """One whole page. ``name``: of its file, relative to the site's folder; ``body``: HTML; the others are words."""
    up = "../" * name.count("/")
    here = {name: ' aria-current="page"'}
    links = "".join(f'<a href="{up}{file}"{here.get(file, "")}>{told}</a>\n' for file, told in _PAGES)
    allowed = f"default-src 'none'; style-src '{_hash(STYLE)}'; base-uri 'none'; form-action 'none'"
    if script:
        allowed += f"; script-src '{_hash(SCRIPT)}'"
    run = f"<script>{SCRIPT}</script>\n" if script else ""
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{allowed}">
<meta name="referrer" content="no-referrer">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{text(title)}</title>
<style>{STYLE}</style>
</head>
<body>
<header><nav aria-label="Pages of this site">
{links}</nav></header>
<main>
{body}
</main>
<footer><p>Made by {text(tool)}. A verdict is no permission: the pilot decides, and local rules come first.</p></footer>
{run}</body>
</html>
"""


def _hash(inline: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(inline.encode()).digest()).decode()}"
