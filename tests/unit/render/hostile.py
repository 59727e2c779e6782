"""A manifest that holds, wherever free text may stand, what some reader of a report would obey."""

ATTACKS = {
    "link": "[press here](http://evil.example)",
    "image": "![x](http://evil.example/x.png)",
    "html": "<img src=x onerror=alert(1)>",
    "mention": "@everyone #1 and @@ops",
    "command": "::error file=a::gone",
    "other command": "##[error]gone ##vso[task.complete]",
    "table": "a | b || c",
    "code": "`` ` ``` x",
    "argument": "{0} and {12}",
    "mail": "owner@evil.example",
    "address": "www.evil.example http://evil.example https://evil.example/x_y_",
    "emphasis": "*a* _b_ ~~c~~ # d",
    "percent": "100 % of %0A%25",
    "xml": "]]> <!-- &amp; \\x1b[2J",
    "entity": "&#64;everyone &lt;b&gt;",
}


def manifest(text: str) -> str:
    """Its name, its owner and who deferred a defect are ``text``; one nut is of the wrong hand."""
    quoted = '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return f"""\
preflint: 1
aircraft: {{name: {quoted}, owner: {quoted}, layout: quad-x, takeoff_mass_g: 3100}}
rotors:
  - {{at: front-left, spin: cw, fixing: {{nut_tightens: cw}}}}
deferred_defects:
  - {{rule: mass_and_hover/throttle, until: 2026-06-01, by: {quoted}, because: {quoted}}}
"""
