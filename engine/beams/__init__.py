"""Machines, beams, apertures, arrangements and the fluence they let through."""
