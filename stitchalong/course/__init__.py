"""A plan and its choices become rounds and runs; the walker, the outlook, finding a place."""
