evening.run();
