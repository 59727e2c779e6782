"""Do the papers hold together: deferred defects, and readings of what is not fitted?"""

from . import deferrals, none_fitted

MODULES = (deferrals, none_fitted)
