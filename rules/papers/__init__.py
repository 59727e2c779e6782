"""Do the papers hold: their last days, deferred defects, and readings of what is not fitted?"""

from . import dates, deferrals, none_fitted

MODULES = (dates, deferrals, none_fitted)
