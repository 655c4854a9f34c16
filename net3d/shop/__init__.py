"""What the shop reckons with: amounts, lacing, knitting, pieces on the sheet, hours, prices; no words."""
