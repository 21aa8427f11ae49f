held.run();
