"""Saw set-ups: how every cut of every part is set, in an order that works."""
