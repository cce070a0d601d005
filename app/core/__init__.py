"""The open case, its undo stack, jobs, autosave and settings."""
