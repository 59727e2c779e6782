"""Where does it go when the link is lost, how high, and how far at most?"""

from . import clearance, fence, height, link_loss

MODULES = (link_loss, height, fence, clearance)
