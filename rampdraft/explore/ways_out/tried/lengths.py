"""The lengths of both leaves, which are tried for much."""

from typing import Final

LENGTHS: Final = ("+inner_leaf.length_mm", "+outer_leaf.length_mm")
SHORTER: Final = ("-inner_leaf.length_mm", "-outer_leaf.length_mm")
