#!/bin/sh
# Makes the pictures of this folder with ImageMagick.
set -e
convert -size 9x7 'gradient:#f04020-#20c0f0' -depth 8 -fill '#ffe000' -draw 'rectangle 2,1,5,3' -alpha off -strip miff:drawing
convert drawing -define png:color-type=2 a.png
convert drawing -quality 80 a.jpg
convert drawing -compress LZW a.tif
convert drawing a.webp
convert drawing -colorspace Gray gray.jpg
convert drawing -colorspace CMYK cmyk.jpg
convert drawing -colorspace CMYK -compress LZW cmyk.tif
convert drawing -orient LeftBottom turned.tif
convert drawing -threshold 50% -compress Group4 fax.tif
convert drawing -alpha set -channel A -evaluate set 40% -define png:color-type=6 alpha.png
rm drawing
