"""Are deferred defects deferred as they may be?"""

from . import deferrals

MODULES = (deferrals,)
