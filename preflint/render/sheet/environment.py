"""The templates: what is filled in is escaped, without exception, and what it hides is shown."""

import base64
import hashlib
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from preflint.errors import UsageError
from preflint.findings.outcome import ADVISORY, CAUTION, NO_GO
from preflint.render.escape import printable

if TYPE_CHECKING:
    from jinja2 import Environment

_TEMPLATES = Path(__file__).parent / "templates"
_LONGEST = 1500

SIGNS = {
    "no-go": "✕", "unproven": "?", "go-with-cautions": "!", "go": "○", "not read": "–",
    str(NO_GO): "✕", str(CAUTION): "!", str(ADVISORY): "i",
}  # fmt: skip
"""Beside the word, never instead of it: on black-and-white paper the shape tells what the colour does."""


def refuse_without_jinja() -> None:
    """Raises UsageError that names the extra."""
    try:
        import jinja2  # noqa: F401
        import markupsafe  # noqa: F401
    except ModuleNotFoundError:
        raise UsageError("a sheet needs one more package: pip install 'preflint[sheet]'") from None


def render(template: str, **told: object) -> str:
    """The page of a template of this package. Needs Jinja2."""
    return _environment().get_template(template).render(told)


def locked(style: str) -> str:
    """The content security policy of a page with this one style sheet: nothing else is applied, fetched or run."""
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode("ascii")
    return f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; form-action 'none'"


def picture(svg: str) -> str:
    """A drawing as an address of itself: nothing in it can reach the page around it."""
    return f"data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode('ascii')}"


@cache
def _environment() -> "Environment":
    from jinja2 import Environment, FileSystemLoader, StrictUndefined
    from markupsafe import Markup

    def plain(value: object) -> object:
        if isinstance(value, Markup):
            return value
        text = printable(str(value))
        return text if len(text) <= _LONGEST else f"{text[:_LONGEST]} ... ({len(text) - _LONGEST} more characters)"

    made = Environment(
        loader=FileSystemLoader(_TEMPLATES), autoescape=True, undefined=StrictUndefined, finalize=plain,
        trim_blocks=True, lstrip_blocks=True, auto_reload=False, keep_trailing_newline=True,
    )  # fmt: skip
    made.globals |= {"signs": SIGNS}
    made.filters |= {"plain": plain, "picture": lambda svg: Markup(picture(str(svg)))}
    return made


@cache
def style() -> str:
    """The style sheet of every page. A page may add lines of its own."""
    return (_TEMPLATES / "sheet.css").read_text("utf-8")
