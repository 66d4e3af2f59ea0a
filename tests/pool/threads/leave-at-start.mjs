/** Ends without a word before it is asked anything. */
process.exit(3);
