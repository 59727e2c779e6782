"""What somebody would type at a question: anything that is legal, by its examples or the first of its choices."""

from preflint.writing.questions import Question


def usual_answer(asked: Question) -> str:
    """A whole answer; of a table two rows."""
    if asked.columns:
        needed = [name for name in asked.columns if not name.endswith("?")]
        return "\n".join(" ".join(f"{row}.{number}0" for number in range(len(needed))) for row in (1, 2))
    if not asked.choices:
        return asked.example
    return " ".join([asked.choices[0]] * max(1, len(asked.positions)))
