"""Does it stop when the link is lost, and how far does the link reach?"""

from . import cut_off, link, margin, reach

MODULES = (cut_off, link, margin, reach)
