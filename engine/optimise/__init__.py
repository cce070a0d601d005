"""What the machine proposes: weights that serve the goals best. It decides nothing."""
