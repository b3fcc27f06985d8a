"""Joints, one file each: every joint is made once, for both halves, in piece axes."""
