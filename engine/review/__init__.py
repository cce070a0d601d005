"""Checks, what is read before signing, and the sealed record."""
