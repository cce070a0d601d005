"""Table models."""
