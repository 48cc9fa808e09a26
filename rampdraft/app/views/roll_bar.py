"""The scrubber along the way of a user over a site: play up and down, the worst places, and clearance, pitch
and force underneath. Its left end is at the deck, as on the drawing.
"""

import math
from typing import Final

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QWidget

from rampdraft.app.choosers import ChooserRow
from rampdraft.app.furniture import across, button, chooser, column, put_items
from rampdraft.app.views.chart import Chart, Told
from rampdraft.app.views.scrubber import Scrubber
from rampdraft.drawing.rolling_charts import clearance_along, force_along, pitch_along, share_of
from rampdraft.drawing.rolling_words import PLACES, Spot, facing_of, spots, tip_words
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolled import UserAt
from rampdraft.mechanics.rolling.results import WAYS, Roll, Way
from rampdraft.units import KG
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

PLAY_S: Final = 9.0
"""Time for the whole way: slow enough to see a small wheel meet a step."""
WORST: Final = "worst"
"""Key of the place that the outcome is told of."""


class RollBar(Scrubber):
    """Chooses a place along the way, as a share from 0 on the deck to 1 on the ground."""

    turned = Signal(str)
    """Play goes this way now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        names = (say("Clearance along the way"), say("Pitch along the way"), say("Force along the way"))
        self.clearance, self.pitch, self.force = (Chart(name, grows=True) for name in names)
        charts = (self.clearance, self.pitch, self.force)
        super().__init__(say("Place along the way, from the deck to the ground"), charts, parent)
        self.way: Way = "up forwards"
        self._roll: Roll | None = None
        self.spots: tuple[Spot, ...] = ()
        """The worst places of the way shown."""
        self.spot = WORST
        """Key of the one that was gone to last."""
        self.at_spot = True
        """Whether it still stands there."""
        self.up = button(say("Play up"), self.play_up, self, say("Roll towards the deck, or pause"))
        self.down = button(say("Play down"), self.play_down, self, say("Roll away from the deck, or pause"))
        self.places = chooser(say("Worst places"), self._chose_spot, self)
        self.places.setPlaceholderText(say("Go to a worst place"))
        self.top = ChooserRow((self.up, self.down, self.places), self, margins=(10, 6, 10, 0))
        self.curves = QWidget(self)
        column(self.curves, *((chart, 1) for chart in charts), margins=(10, 2, 10, 8), spacing=4)
        under = across((self.slider, 1), margins=(10, 0, 10, 0))
        column(self, (self.top, 0), (under, 0), (self.curves, 0), spacing=2)

    @property
    def worst(self) -> Spot | None:
        """Return the worst place that was gone to last; that of the outcome where it is no more."""
        return next((spot for spot in self.spots if spot.key == self.spot), next(iter(self.spots), None))

    def show_roll(self, roll: Roll | None, site: SitePose, way: Way, mass_kg: KG, *, greyed: bool) -> None:
        """Show another roll, at the same worst place, or the same share where it stood at none."""
        if roll is None or (self._roll is not None and facing_of(way) != facing_of(self.way)):
            self.pause()
        self._roll, self.way = roll, way
        self.setEnabled(roll is not None)
        if roll is None:
            self.spots = ()
            put_items(self.places, [])
            for chart in self.charts:
                chart.show_strip(None)
            return
        number = facing_of(way)[1]
        self.spots = spots(roll, number)
        put_items(self.places, [(spot.words, spot.key) for spot in self.spots])
        strips = (
            clearance_along(roll, site),
            pitch_along(roll, site),
            force_along(roll, site, number, mass_kg),
        )
        for chart, strip, told in zip(self.charts, strips, _told(roll, number), strict=True):
            chart.show_strip(strip, told, greyed=greyed)
        if self.at_spot:
            self.stand_at(self.spot)
        else:
            self._place(self.share)

    def show_here(self, user: UserAt) -> None:
        """Show on the charts what is found exactly where the scrubber stands."""
        force = user.forces_n[facing_of(self.way)[1]]
        here = user.low.clearance_mm, math.degrees(user.pitch_rad), force
        for chart, value in zip(self.charts, here, strict=True):
            chart.set_share(self.share, value)

    def stand_at(self, key: str) -> None:
        """Stand at a worst place, without saying that anybody went there."""
        self.spot = key
        spot = self.worst
        if spot is not None and self._roll is not None:
            self.spot, self.at_spot = spot.key, True
            self._place(share_of(self._roll, spot.worst.front_mm))

    def play_up(self) -> None:
        """Roll up from here, from the ground if it is over, or pause."""
        self._play(0)

    def play_down(self) -> None:
        """Roll down from here, from the deck if it is over, or pause."""
        self._play(1)

    def reset(self) -> None:
        """Begin with another ramp at its worst place."""
        self.pause()
        self.spot, self.at_spot = WORST, True

    @property
    def _falls(self) -> int:
        """Return which way it goes: 0 up, to the left, 1 down."""
        return 0 if self.way.startswith("up") else 1

    def _play(self, falls: int) -> None:
        playing, before = self.playing, self._falls
        self.pause()
        if self._roll is None or (playing and before == falls):
            return
        if before != falls:
            self.turned.emit(next(way for way in WAYS[self._roll.facing] if way != self.way))
        if self.share == (1.0 if falls else 0.0):
            self._move(1.0 - self.share)
        self._start()

    def _play_on(self, passed_s: float) -> None:
        to = self.share + (passed_s if self._falls else -passed_s) / PLAY_S
        self._move(min(max(to, 0.0), 1.0))
        if self.share in (0.0, 1.0):
            self.pause()

    def _show_playing(self) -> None:
        for falls, (one, word) in enumerate(((self.up, say("Play up")), (self.down, say("Play down")))):
            one.setText(say("Pause") if self.playing and self._falls == falls else word)

    def _chose_spot(self) -> None:
        self.pause()
        self.stand_at(self.places.currentData())
        self.moved.emit(self.share)

    def _move(self, share: float) -> None:
        roll = self._roll
        found = (spot for spot in self.spots if roll and share_of(roll, spot.worst.front_mm) == share)
        spot = next(found, None)
        self.at_spot = spot is not None
        if spot is not None:
            self.spot = spot.key
        super()._move(share)

    def _say(self) -> None:
        with QSignalBlocker(self.places):
            self.places.setCurrentIndex(self.places.findData(self.spot) if self.at_spot else -1)


def _told(roll: Roll, number: int) -> tuple[Told, ...]:
    """Return what the strips of clearance, pitch and force say."""
    clear, way = roll.clearance, roll.ways[number]
    least = say(
        "least {value}, {part}, {place}",
        value=fixed(clear.value, 1, "mm"),
        part=say(clear.part),
        place=say(PLACES[clear.place]),
    )
    tips = [
        f"{tip_words(tip.value, word)}, {say(PLACES[tip.place])}"
        for word, tip in (("back", roll.tip_back), ("forward", roll.tip_forward))
        if tip is not None
    ]
    push = say(
        "most {value}, {place}", value=fixed(way.push.value, 0, "N"), place=say(PLACES[way.push.place])
    )
    if way.brake.value > 0:
        push = say("{push}; holds back {value}", push=push, value=fixed(way.brake.value, 0, "N"))
    tip = tips[0] if tips else say("held by hands")
    return (
        _one(say("Clearance"), least, least, "mm", 1),
        _one(say("Pitch"), "; ".join(tips) or tip, tip, "°", 1),
        _one(say("Force to keep moving"), push, push, "N", 0),
    )


def _one(name: str, said: str, extreme: str, unit: str, decimals: int) -> Told:
    return Told(
        name=name, said=said, unit=unit, decimals=decimals, limits="", extreme=extreme, gap="", sampled=False
    )
