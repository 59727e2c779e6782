"""numpy under its usual name, loaded with the first array: much of the work on a manifest without readings needs none.

Loading it takes longer than judging an aircraft. Modules that name it have annotations that are not evaluated.
"""

import importlib
from collections.abc import MutableMapping
from types import ModuleType
from typing import TYPE_CHECKING

__all__ = ["np", "one_thread"]

if TYPE_CHECKING:  # to type checkers it is numpy itself
    import numpy as np
else:

    class _Later(ModuleType):
        def __getattr__(self, name):
            value = getattr(importlib.import_module("numpy"), name)
            setattr(self, name, value)  # asked for once
            return value

    np = _Later("numpy")


def one_thread(environment: MutableMapping[str, str]) -> None:
    """Lets a process with this environment load numpy without a thread for each core, unless somebody said how many.

    To start them takes as long as to load all the rest of it, and no product here is large enough to be shared out.
    """
    if "OMP_NUM_THREADS" not in environment:
        environment.setdefault("OPENBLAS_NUM_THREADS", "1")
