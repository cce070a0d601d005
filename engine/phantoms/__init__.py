"""Demonstration patients and analytic phantoms, synthetic and said to be."""
