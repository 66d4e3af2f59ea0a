/** Cannot even be loaded. */
throw new Error('this thread does not start');
