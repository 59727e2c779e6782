"""Remarks that say the same, as one: of several rotors, or of one line of a file that several aircraft share."""

from collections.abc import Hashable, Iterable

from preflint.findings.outcome import Related
from preflint.frozen import dataclass
from preflint.render.entries import bare
from preflint.render.remarks import Level, Remark, shown


@dataclass(frozen=True, slots=True)
class Folded:
    """One remark or more of one word; the first stands for all of them."""

    remarks: tuple[Remark, ...]

    @property
    def first(self) -> Remark:
        """The one whose place, evidence and advice are told."""
        return self.remarks[0]

    @property
    def level(self) -> Level:
        """How bad it is: the same of all."""
        return self.first.level

    @property
    def aircraft(self) -> tuple[str, ...]:
        """The names of all aircraft concerned, in the order of the remarks."""
        return tuple(dict.fromkeys(one.aircraft for one in self.remarks))

    @property
    def rules(self) -> tuple[str, ...]:
        """Whose remarks they are: of a finding one rule, of an open question all that wait for the same."""
        return tuple(dict.fromkeys(one.rule for one in self.remarks))

    @property
    def said(self) -> str:
        """What is the matter, and with what: aircraft and rotors of one, of several aircraft their names."""
        if len(self.remarks) == 1:
            return self.first.said
        rotors = dict.fromkeys(one.at for one in self.remarks if one.at) if len(self.aircraft) == 1 else {}
        messages = dict.fromkeys(bare(one.message, one.at) for one in self.remarks if one.aircraft == self.aircraft[0])
        return shown(f"{', '.join([*self.aircraft, *rotors])}: {self.first.kind}{'; '.join(messages)}")

    @property
    def related(self) -> tuple[Related, ...]:
        """The other places: of the other rotors, and where the other aircraft are named; what else is to be done."""
        seen = {(self.first.place, self.first.todo)}
        found = []
        for one in self.remarks[1:]:
            other = one.aircraft != self.first.aircraft
            place = one.named if other and one.named else one.place
            if (place, one.todo) in seen:
                continue
            seen.add((place, one.todo))
            about = ", ".join(part for part in (one.aircraft if other else "", one.at) if part) or one.aircraft
            then = "" if one.todo == self.first.todo else f". Then: {one.todo}"
            found.append(Related(place, f"{about}: {bare(one.message, one.at)}{then}"))
        return tuple(found)

    @property
    def known_by(self) -> tuple[str, ...]:
        """By what a later run knows it again: no line or column, which move, and no number, which changes."""
        place = self.first.place
        own = self.first.named is not None and place.file == self.first.named.file
        # What stands in a shared file is known by the file; what is in a manifest by the name of its aircraft.
        return (self.first.rule, self.first.aircraft if own else place.file, place.pointer)


def folded(remarks: Iterable[Remark]) -> list[Folded]:
    """In the order given. Of one aircraft those whose remedy is the same; of several those of one place.

    Several rules that wait for one record are told as the first of them. A file that is not read, a rule that broke
    down and a note about the folder are told each by itself.
    """
    of_one: dict[Hashable, list[Remark]] = {}
    for i, one in enumerate(remarks):
        of_one.setdefault((*_asked(one), one.aircraft, one.at is None, one.todo) if one.todo else i, []).append(one)
    of_all: dict[Hashable, list[Remark]] = {}
    for key, same in of_one.items():
        of_all.setdefault(key if isinstance(key, int) else (*_asked(same[0]), same[0].place), []).extend(same)
    return [Folded(tuple(same)) for same in of_all.values()]


def _asked(one: Remark) -> tuple[str, str]:
    """Of a finding its rule: each aircraft may need another number. Of an open question what answers it."""
    return one.word, one.todo if one.word in ("not proven", "not known") else one.rule
