"""Beam data of a machine: computed in water, compared with measured or published data, and fitted to it."""
