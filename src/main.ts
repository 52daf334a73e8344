#!/usr/bin/env node
// Reads the word after `thawline`, finds its command; nothing else.
process.exitCode = 2;
