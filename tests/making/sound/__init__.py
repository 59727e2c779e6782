"""Sound aircraft of all sizes, from forward models: nothing is wrong with them but what real things are wrong by.

Nothing of preflint is used: physics from handbooks, the Earth's field from pygeomag, moments from ``making.moments``.
Ranges without a source are common practice. ``sound(seed)`` draws one and writes it down as an owner would.
"""

from making.sound.build import asked_again as asked_again
from making.sound.build import sound as sound
