"""Immutable values, errors, progress and sourced numbers: what every other room stands on."""
