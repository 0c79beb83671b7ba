#include "ui/words/words.h"
