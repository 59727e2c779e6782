"""A study of sound aircraft and of kinds of fault: who is alarmed falsely, and what is missed.

``cd tests && python -m making.study`` judges 1,000 sound aircraft, each again with a fault, and 500 with two.
"""
