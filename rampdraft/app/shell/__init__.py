"""The window itself: its frame, menus, dialogs and files, and what lies on its desk."""
