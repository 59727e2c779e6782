"""."""
from preflint.api import Rule

RULES: tuple[Rule, ...] = ()
FIGURES = ()
