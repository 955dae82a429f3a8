"""Figures as SVG and the records they are drawn from; what is drawn computes nothing."""
