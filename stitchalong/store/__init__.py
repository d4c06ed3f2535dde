"""Pieces and presses, kept durably."""
