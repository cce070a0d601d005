"""Grids, frames of reference, sampling and rays."""
