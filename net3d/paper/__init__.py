"""What is printed: the bench sheets, the quote, strips of marks at full size, the measuring form.

``pages.py`` says what a page may hold and the modules named for a sheet fill it; ``pdf.py`` sets it in type
from ``templates/``; ``documents.py`` makes a design's PDF files of it all. Nothing is written here.
"""
