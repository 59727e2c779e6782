"""Precautions in one text: a long sentence is said in full once, and by its first words after that."""

import re

_LONG = 100


class Told:
    """What was said so far, and where."""

    def __init__(self) -> None:
        self._where: dict[str, str] = {}

    def say(self, text: str, here: str) -> str:
        """The text; of long sentences told before only the first words: "Loaded run, flight rig: as at [1]."."""
        in_full: list[str] = []
        named: dict[str, list[str]] = {}
        for sentence in re.split(r"(?<=\.) ", text):
            where = self._where.setdefault(sentence, here)
            if where == here or len(sentence) < _LONG:
                in_full.append(sentence)
            else:
                named.setdefault(where, []).append(re.split("[:,;.]", sentence)[0])
        if named:
            words = "; ".join(f"{', '.join(names)}: as {where}" for where, names in named.items()).lower()
            in_full.insert(0, f"{words[0].upper()}{words[1:]}.")
        return " ".join(in_full)
