"""Simulated dogs: what a way of calling breaks costs in accidents and in outings.

A dog here is a mechanism (a bladder that fills, a gut that is set going, a tolerance that grows and
slips), and an owner is a person who is late, forgets and misses entries. Nothing in this folder
uses the product's own estimate; the product is run as it is, through
:func:`pottyboard.core.view.situation.situation`.
"""
