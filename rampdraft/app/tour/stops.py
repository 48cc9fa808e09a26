"""What the tour shows, in its order."""

from dataclasses import dataclass
from typing import Final, Literal

PlaceKey = Literal["steps", "form", "drawing", "checks", "export"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """One place, and what is said there."""

    place: PlaceKey
    title: str
    words: str


STOPS: Final = (
    Stop(
        place="steps",
        title="The steps of the job",
        words="From the survey to proving the ramp: each step shows its values, its views and its checks, and"
        " tells how much still fails. The line above says what is needed next.",
    ),
    Stop(
        place="form",
        title="The dimensions",
        words="Type a value: a sum such as 2*850 - 12, or another unit. With the cursor in a field, its help"
        " stands below: what the value is, a typical figure, and where it shows.",
    ),
    Stop(
        place="drawing",
        title="The drawing",
        words="Pull the round grips, or type a dimension over where it stands with a double click. The bar"
        " below folds the ramp; the other views stand behind the tabs.",
    ),
    Stop(
        place="checks",
        title="The checks",
        words="What fails stands first. Open a check for its working and for ways out: one press takes a way"
        " out, and Undo takes it back.",
    ),
    Stop(
        place="export",
        title="Onto paper",
        words="Under File: Sheets and print shows what will be printed, page by page, and Export writes the"
        " whole workshop pack into a new folder. This tour can be had again under Help.",
    ),
)
