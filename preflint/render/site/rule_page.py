"""The manual page of one rule, as a page of its own."""

import re
import textwrap
from collections.abc import Iterator

from preflint.aircraft.declared import group_of, is_kind_name
