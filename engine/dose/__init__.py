"""Photon transport only: knows grids, densities and beams, never volumes."""
