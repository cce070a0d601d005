"""The CT image, its densities and radiographs made from it."""
