"""Whether everything is tried, which takes an hour, or what suits each change."""

import os

FULL = os.environ.get("PREFLINT_FULL") == "1"
