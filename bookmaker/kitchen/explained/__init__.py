"""The workings of a recipe's figures, one module per family. Each is asked what it can explain and hands back makers
of workings.
"""
