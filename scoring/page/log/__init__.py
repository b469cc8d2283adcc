"""The screen "Jobs done"."""
