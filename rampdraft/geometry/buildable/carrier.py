"""Rules about the carrier and what it stands on."""

from collections.abc import Iterator

from rampdraft.errors import Problem
from rampdraft.figures import mm
from rampdraft.geometry.buildable.words import wrong
from rampdraft.model.design import Design


def cargo(design: Design) -> Iterator[Problem]:
    """Yield a cargo whose centre does not lie on the deck; only where supports are described does it
    matter.
    """
    body, length = design.carrier_body, design.carrier.deck_length_mm
    if design.supports and body.cargo_kg and not 0 <= body.cargo_back_mm <= length:
        yield wrong(
            design,
            "carrier_body.cargo_back_mm",
            f"puts the cargo off the deck, which runs back {mm(length)} from its edge",
            "measure it from the deck edge",
        )
