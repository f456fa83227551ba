"""Drawings of trees: from a tree to a figure of boxes and lines, to the text that graphviz lays out, to finished pages.

Nothing here reads, writes or runs a program; the command ``faulttree draw`` does. What each module is for:

* `figure`: boxes and lines as plain values
* `shares`: the share of weight that takes each route
* `words`: what stands in a box
* `make`: a tree's variant as a figure, as one role can reach it
* `against`: what changed between two figures
* `parts`: a large figure split into parts that fit a page, with connectors
* `text`: escaping and line breaking
* `legend`, `dot`: graphviz text
* `outline`: the same as a nested list, in words
* `paper`, `svg`: pages of A4 or A3; titles, description and list in the svg
* `index`: the page that lists many drawings
"""
