"""What every editor of the form does."""

from typing import Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from rampdraft.model.design import Design


class Editor(QObject):
    """One value's editor. `widget` is what stands in the form."""

    given = Signal(object)
    """A value, by the user."""
    refused = Signal(str, str)
    """A text that is no value, and why."""
    stepped = Signal(object)
    """A value, by a key that steps: many of them make one edit."""
    restored = Signal()
    """The user took the text back."""

    widget: QWidget

    def show_value(self, value: Any, design: Design) -> None:
        """Show a value of the design."""
        raise NotImplementedError
