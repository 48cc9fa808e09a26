"""Text of a user made harmless as a file name."""

import re
import unicodedata
from typing import Final

LONGEST_BYTES: Final = 80
"""Of a stem in UTF-8: far below the 255 that file systems allow, so that an ending and a long folder still
fit.
"""

_DEVICES: Final = frozenset(
    ("CON", "PRN", "AUX", "NUL", *(f"{port}{n}" for port in ("COM", "LPT") for n in range(10)))
)
"""Names that some systems take for a device, whatever ending follows."""


def safe_stem(text: str, otherwise: str = "ramp") -> str:
    """Return `text` as the stem of a file name: letters and digits of any script, `-` and `_`, or `otherwise`
    if none is left.

    No folder, no point, no space, no control character and no device name comes through; letters that look
    alike in another width or script form are made one (Unicode NFKC) before they are judged. The same text
    gives the same stem.
    """
    plain = unicodedata.normalize("NFKC", text)
    kept = "".join(
        letter if letter == "_" or unicodedata.category(letter)[0] in "LMN" else "-" for letter in plain
    )
    stem = _shortened(re.sub("-+", "-", kept).strip("-"))
    if not any(letter.isalnum() for letter in stem):
        return otherwise
    return f"{otherwise}-{stem}" if stem.upper() in _DEVICES else stem


def _shortened(stem: str) -> str:
    return stem.encode("utf-8")[:LONGEST_BYTES].decode("utf-8", errors="ignore").rstrip("-")
