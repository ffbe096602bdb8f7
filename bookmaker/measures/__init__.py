"""Amounts, units, money, rounding, scales, durations and temperatures: the arithmetic every other floor stands on."""
