/* Makes every sync last SLOW_SYNC_MS longer, as a slow disk does; loaded in front of the C library (LD_PRELOAD, ld.so(8)). */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdlib.h>
#include <time.h>

static int slow(const char *name, int file) {
  const char *text = getenv("SLOW_SYNC_MS");
  long ms = text == NULL ? 0 : atol(text);
  struct timespec pause = {ms / 1000, (ms % 1000) * 1000000};
  int (*real)(int) = (int (*)(int))dlsym(RTLD_NEXT, name);
  nanosleep(&pause, NULL);
  return real(file);
}

int fsync(int file) { return slow("fsync", file); }
int fdatasync(int file) { return slow("fdatasync", file); }
