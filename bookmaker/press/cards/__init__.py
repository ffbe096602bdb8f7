"""Bench cards on paper: blocks are measured, put into columns of one or two sides in the largest type that fits, and
drawn with an edge for their section and a code that a phone can read.
"""
