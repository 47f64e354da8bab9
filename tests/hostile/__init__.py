"""Hostile messages, through every way in and every way out."""
