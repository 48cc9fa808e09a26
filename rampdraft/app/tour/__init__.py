"""Five places of the window, shown to whoever sees it for the first time."""
