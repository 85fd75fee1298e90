/*
 * A failing file layer, loaded in front of the C library (LD_PRELOAD, ld.so(8)). Of the files below FAILING_DIR it lets the
 * n-th write or sync fail, or all of them, as the control file named by FAILING_CONTROL says. A failing write leaves half of
 * its bytes on the file, as a disk does that loses power or space in the middle.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/types.h>
#include <unistd.h>

/* Shared with the test: which calls count (1 writes, 2 syncs), how many succeed before one fails (-1: none fails),
   whether all fail from then on, what they fail with; and, told by this side, how many have failed. */
struct control {
  int32_t kinds;
  int32_t left;
  int32_t lasting;
  int32_t code;
  int32_t failed;
};

static volatile struct control *control;
static const char *folder;

__attribute__((constructor)) static void load(void) {
  const char *name = getenv("FAILING_CONTROL");
  folder = getenv("FAILING_DIR");
  if (name == NULL || folder == NULL) return;
  int file = open(name, O_RDWR);
  if (file < 0) return;
  void *memory = mmap(NULL, sizeof(struct control), PROT_READ | PROT_WRITE, MAP_SHARED, file, 0);
  close(file);
  if (memory != MAP_FAILED) control = memory;
}

static int fails(int file, int kind) {
  if (control == NULL || (control->kinds & kind) == 0 || control->left < 0) return 0;
  char link[64];
  char path[4096];
  snprintf(link, sizeof link, "/proc/self/fd/%d", file);
  ssize_t length = readlink(link, path, sizeof path - 1);
  if (length <= 0) return 0;
  path[length] = 0;
  if (strncmp(path, folder, strlen(folder)) != 0) return 0;
  int32_t left = __sync_fetch_and_sub(&control->left, 1);
  if (left > 0) return 0;
  if (left < 0 && !control->lasting) {
    control->left = -1;
    return 0;
  }
  control->left = control->lasting ? 0 : -1;
  __sync_fetch_and_add(&control->failed, 1);
  return 1;
}

typedef ssize_t (*pwrite_call)(int, const void *, size_t, off64_t);
typedef ssize_t (*write_call)(int, const void *, size_t);
typedef int (*sync_call)(int);

static ssize_t pwrite_or_fail(int file, const void *bytes, size_t count, off64_t at) {
  static pwrite_call real;
  if (real == NULL) real = (pwrite_call)dlsym(RTLD_NEXT, "pwrite64");
  if (!fails(file, 1)) return real(file, bytes, count, at);
  real(file, bytes, count / 2, at);
  errno = control->code;
  return -1;
}

ssize_t pwrite64(int file, const void *bytes, size_t count, off64_t at) { return pwrite_or_fail(file, bytes, count, at); }
ssize_t pwrite(int file, const void *bytes, size_t count, off_t at) { return pwrite_or_fail(file, bytes, count, at); }

ssize_t write(int file, const void *bytes, size_t count) {
  static write_call real;
  if (real == NULL) real = (write_call)dlsym(RTLD_NEXT, "write");
  if (!fails(file, 1)) return real(file, bytes, count);
  errno = control->code;
  return -1;
}

static int sync_or_fail(int file, sync_call real) {
  if (!fails(file, 2)) return real(file);
  errno = control->code;
  return -1;
}

int fsync(int file) {
  static sync_call real;
  if (real == NULL) real = (sync_call)dlsym(RTLD_NEXT, "fsync");
  return sync_or_fail(file, real);
}

int fdatasync(int file) {
  static sync_call real;
  if (real == NULL) real = (sync_call)dlsym(RTLD_NEXT, "fdatasync");
  return sync_or_fail(file, real);
}
