"""How much sag is too much, by whom."""

AWS = 144
AWS_SOURCE = "L/144, Architectural Woodwork Standards 1st ed. (2009) 1.2.21"
SHELF_TEST = 192
SHELF_TEST_SOURCE = "L/192, ANSI/KCMA A161.1 structural test"
TO_THE_EYE = 384
TO_THE_EYE_SOURCE = "L/384 starts to show, common practice, no source"
