"""Pages, papers and data: siblings drawn from one settled sheet.

Nothing here computes or reads a project file. Each output is a module of its
own; import it by name, so that a command that needs none of them stays quick.
"""
