"""Offline: makes the shipped kernels and physics tables from NIST data; never imported at run time."""
