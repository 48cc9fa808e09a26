"""How long work tells what share of it is done, and how it is called off."""

from collections.abc import Callable


class Cancelled(Exception):  # noqa: N818  it is no error
    """Raised by a progress callback once nobody wants the result any more; no RampdraftError, so that
    nothing that mends errors takes it for one.
    """


Progress = Callable[[float, str], None]
"""Takes the share that is done, 0 to 1, and words for what is being done, or ""; raises Cancelled to call
the work off. Whoever calls it lets Cancelled pass.
"""


def nobody(share: float, words: str) -> None:
    """Take the progress of work that nobody watches or calls off."""
    del share, words
