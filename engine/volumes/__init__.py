"""Volumes painted slice by slice: one representation, its tools, margins and quality."""
