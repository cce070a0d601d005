"""One panel per file."""
