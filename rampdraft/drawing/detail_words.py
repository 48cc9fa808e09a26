"""What the details of a ramp have written in them."""

from rampdraft.drawing.text import mm_text
from rampdraft.geometry.members.member import Body
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import StopBars, Toe
from rampdraft.units import MM
from rampdraft.words.say import say


def stop_words(stop: StopBars) -> str:
    """Return the gap of a stop, and how far its bars lap."""
    gap = mm_text(stop.gap_mm, 2)
    if stop.kind == "lap":
        return say("gap {gap}, laps {lap}", gap=gap, lap=mm_text(stop.lap_mm))
    return say("gap {gap}", gap=gap)


def taper_words(toe: Toe) -> str:
    """Return what a taper leaves, and how long it is."""
    return say(
        "taper to {thickness} over {length}",
        thickness=mm_text(toe.thickness_mm),
        length=mm_text(toe.length_mm),
    )


def latch_words(body: Body, start_mm: MM, end_mm: MM) -> str:
    """Return where along its leaf a plate begins and ends."""
    return say(
        "{start} to {end} from deck hinge" if body == "inner" else "{start} to {end} from joint",
        start=mm_text(start_mm),
        end=mm_text(end_mm),
    )


def deployed_words(site: SitePose) -> str:
    """Return where it lies deployed."""
    return say("deployed at {site}, {deck}", site=site.site, deck=site.deck)
