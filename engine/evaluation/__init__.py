"""DVH, metrics, goals and isodose lines, fast enough to follow a hand."""
