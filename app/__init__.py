"""The desktop program: shows, asks, forwards. Holds no physics."""
