"""Gestures on the stage: start, move, finish, cancel."""
