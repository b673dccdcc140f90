"""What is kept between builds (cache) and who works at it (pool of processes).

May import: the standard library.
"""
