"""Lessons as data: what is said, asked, checked and remembered."""
