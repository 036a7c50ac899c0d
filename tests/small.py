"""A design that is quickly knitted, for what the commands do with any."""

from __future__ import annotations

SMALL = """
title = "Slip <b>way</b>"
[gauge]
stitches = 14
rounds = 20
over = "10 cm"
[yarn]
name = "tarred wool"
count = "200 m / 100 g"
ball = "50 g"
[[sizes]]
name = "S/M"
length = "22 cm"
ball_girth = "20 cm"
[[sizes]]
name = "S M"
length = "24 cm"
ball_girth = "22 cm"
"""
