"""A place told by one figure, over its row in the form: level, a kerb, falling ground, a platform."""

from typing import Final

from PySide6.QtWidgets import QWidget

from rampdraft.app.document import Document
from rampdraft.app.form.entries import Entry, figure_entry
from rampdraft.app.furniture import across, chooser, column, put_items
from rampdraft.model.design import Site
from rampdraft.model.presets import NAMES, Preset, PresetKind, preset_of, site_as, turned_into
from rampdraft.words.say import say

FIGURED: Final = ("kerb", "platform", "fall")
OWN: Final = "Own points"


class SitePreset(QWidget):
    """Says which ordinary place a site is, and makes it another one."""

    def __init__(self, document: Document, number: int, parent: QWidget, *, narrow: bool = False) -> None:
        super().__init__(parent)
        self._document, self._number = document, number
        self.kinds = chooser(say("Kind of place, site {number}", number=number), self._turn, self)
        self.kinds.setToolTip(say("An ordinary place, told by one figure; other ground by its points below"))
        self.kinds.setMinimumContentsLength(8)
        self._row = (
            column(self, (self.kinds, 0), margins=(0, 2, 0, 2), spacing=4)
            if narrow
            else across((self.kinds, 1), parent=self, margins=(0, 2, 0, 2), spacing=6)
        )
        self.entry: Entry | None = None
        self._shown = ""
        self.refresh()

    def refresh(self) -> None:
        """Show the kind of the site as it is, and its figure."""
        site, design = self._site, self._document.design
        if site is None or design is None:
            return
        preset = preset_of(site)
        if preset.kind != self._shown:
            self._shown = preset.kind
            own = [(say(OWN), "own")] if preset.kind == "own" else []
            put_items(self.kinds, [*((say(words), kind) for kind, words in NAMES.items()), *own])
            self.kinds.setCurrentIndex(self.kinds.findData(preset.kind))
            self._figure(preset.kind)
        if self.entry is not None:
            self.entry.show_value(preset.value, design)

    def _figure(self, kind: PresetKind) -> None:
        """Show the figure of another kind."""
        if self.entry is not None:
            self._row.removeWidget(self.entry)
            self.entry.hide()
            self.entry.deleteLater()
            self.entry = None
        if kind in FIGURED:
            self.entry = figure_entry(f"sites[{self._number}]", kind, self)
            self.entry.given.connect(self._give)
            self._row.addWidget(self.entry)
            self.entry.show()

    @property
    def _site(self) -> Site | None:
        sites = self._document.design.sites if self._document.design is not None else ()
        return sites[self._number - 1] if self._number <= len(sites) else None

    def _turn(self, row: int) -> None:
        design, site = self._document.design, self._site
        if design is None or site is None:
            return
        taken = {one.name for one in design.sites} - {site.name}
        self._put(turned_into(site, self.kinds.itemData(row), taken))

    def _give(self, value: float) -> None:
        if self._site is not None:
            self._put(site_as(Preset(preset_of(self._site).kind, value), self._site))

    def _put(self, site: Site) -> None:
        sites = list(self._document.design.sites if self._document.design is not None else ())
        sites[self._number - 1] = site
        self._document.edit("sites", tuple(sites), say("Site {number}", number=self._number))
