"""Makes any string fit for a terminal and for the log of a CI service.

What a file, its name or a rule says may hold anything: the escape sequence that moves the cursor, letters
that run backwards, a line that a CI service takes for a command.
"""

import unicodedata

# Letters and symbols that show nothing, though their category says otherwise.
_BLANK = frozenset("\u115f\u1160\u2800\u3164\uffa0")

# Selectors and joiners that show nothing by themselves, among the combining marks.
_SELECTORS = frozenset(map(chr, (0x34F, 0x17B4, 0x17B5, *range(0x180B, 0x1810), *range(0xFE00, 0xFE10))))

# Combining marks on one letter; a longer pile reaches into the lines above and below.
_MARKS_ON_A_LETTER = 2

# Signs that we use ourselves, in letters that any console shows.
_OURS = str.maketrans({
    "µ": "u", "μ": "u", "°": " deg", "±": "+/-", "×": "x", "−": "-", "–": "-", "—": "-", "…": "...", "·": "*",
    "²": "^2", "³": "^3", "√": "sqrt ", "Ω": "ohm", "σ": "sigma", "Δ": "delta ", "δ": "delta",
    "≤": "<=", "≥": ">=",
    "≈": "about ", "→": "->", "“": '"', "”": '"', "‘": "'", "’": "'", "½": "1/2",
})  # fmt: skip


def printable(text: str, ascii_only: bool = False, ours: bool = False) -> str:
    """``text`` on one line; what is not plainly visible is written as \\xNN, \\uNNNN or \\UNNNNNNNN.

    ``ours`` says that the words are the tool's: where only ASCII may be shown, its signs are spelled.
    """
    if text.isascii() and text.isprintable() and "::" not in text and "##" not in text:
        return text  # nearly every text, told without a look at each letter
    return "".join(letters(text.translate(_OURS) if ascii_only and ours else text, ascii_only))


def letters(text: str, ascii_only: bool = False) -> list[str]:
    """What is shown for each letter of ``text``: itself or a code."""
    shown: list[str] = []
    marks = _MARKS_ON_A_LETTER  # a mark with no letter before it would sit on our own text
    before = ""
    for letter in text:
        mark = unicodedata.category(letter) in ("Mn", "Me")
        marks = marks + 1 if mark else _MARKS_ON_A_LETTER if letter == " " else 0
        hidden = (
            (mark and marks > _MARKS_ON_A_LETTER)
            or not _visible(letter)
            or (ascii_only and not letter.isascii())
            # Log readers of CI services take `::name::` at the start of a line, and `##[` or `##name[` anywhere,
            # for commands. A line may be folded anywhere, so no such pair is left at all.
            or (letter in ":#" and letter == before)
        )
        before = _code(letter) if hidden else letter
        shown.append(before)
    return shown


def _visible(letter: str) -> bool:
    if letter == " ":
        return True
    category = unicodedata.category(letter)
    if category[0] == "C" or category[0] == "Z" or letter in _BLANK or letter in _SELECTORS:
        return False
    return not 0xE0100 <= ord(letter) <= 0xE01EF


def _code(letter: str) -> str:
    number = ord(letter)
    return f"\\x{number:02x}" if number < 0x100 else f"\\u{number:04x}" if number < 0x10000 else f"\\U{number:08x}"
