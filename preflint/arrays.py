"""numpy under its usual name, loaded with the first array: much of the work on a manifest without readings needs none.

Loading it takes longer than judging an aircraft. Modules that name it have annotations that are not evaluated.
"""

import importlib
from types import ModuleType
from typing import TYPE_CHECKING

__all__ = ["np"]

if TYPE_CHECKING:  # to type checkers it is numpy itself
    import numpy as np
else:

    class _Later(ModuleType):
        def __getattr__(self, name):
            value = getattr(importlib.import_module("numpy"), name)
            setattr(self, name, value)  # asked for once
            return value

    np = _Later("numpy")
