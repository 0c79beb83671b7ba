#include "tests/suite.h"
static Suite *suite (void) { return suite_create ("x"); }
SP_MAIN (suite)
