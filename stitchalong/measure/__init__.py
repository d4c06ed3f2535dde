"""Bead sizes, ring sizes, gauge, materials, thread."""
