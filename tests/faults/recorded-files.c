/*
 * Records what a process does to its files, loaded in front of the C library (LD_PRELOAD, ld.so(8)): every write, truncation,
 * sync and removal below RECORDED_DIR, and what it sends through sockets, in the one order in which they were done, into the
 * file named by RECORDED_LOG. A record stands there after its call has returned, so a sync in it has happened.
 *
 * A record: kind (1 byte), length of the path (4), offset (8), length of the bytes (4), path, bytes; numbers little-endian.
 */
#define _GNU_SOURCE
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/syscall.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

enum { WRITE = 'w', TRUNCATE = 't', SYNC = 's', REMOVE = 'r', SEND = 'p' };

static int log_file = -1;
static const char *folder;
static pthread_mutex_t one_at_a_time = PTHREAD_MUTEX_INITIALIZER;

__attribute__((constructor)) static void load(void) {
  const char *name = getenv("RECORDED_LOG");
  folder = getenv("RECORDED_DIR");
  if (name == NULL || folder == NULL) return;
  log_file = open(name, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
}

static void append(const void *bytes, size_t count) {
  while (count > 0) {
    ssize_t done = syscall(SYS_write, log_file, bytes, count);
    if (done < 0 && errno == EINTR) continue;
    /* A record with a hole in it would prove nothing. */
    if (done < 0) abort();
    bytes = (const char *)bytes + done;
    count -= (size_t)done;
  }
}

static void record(char kind, const char *path, int64_t offset, const struct iovec *parts, int many, size_t count) {
  unsigned char head[17];
  uint32_t path_length = (uint32_t)strlen(path);
  uint32_t length = (uint32_t)count;
  head[0] = (unsigned char)kind;
  memcpy(head + 1, &path_length, 4);
  memcpy(head + 5, &offset, 8);
  memcpy(head + 13, &length, 4);
  append(head, sizeof head);
  append(path, path_length);
  for (int i = 0; i < many && count > 0; i += 1) {
    size_t own = parts[i].iov_len < count ? parts[i].iov_len : count;
    append(parts[i].iov_base, own);
    count -= own;
  }
}

/* The path of an open file below the folder, or of a socket; 0 where it is neither. */
static int recorded(int file, char *path) {
  char link[64];
  if (log_file < 0 || file == log_file) return 0;
  snprintf(link, sizeof link, "/proc/self/fd/%d", file);
  ssize_t length = readlink(link, path, PATH_MAX);
  if (length <= 0) return 0;
  path[length] = 0;
  if (strncmp(path, "socket:", 7) == 0) return SEND;
  return strncmp(path, folder, strlen(folder)) == 0 ? WRITE : 0;
}

static ssize_t written(int file, const struct iovec *parts, int many, int64_t offset, ssize_t (*call)(int, const struct iovec *, int, int64_t)) {
  char path[PATH_MAX + 1];
  int kind = recorded(file, path);
  if (kind == 0) return call(file, parts, many, offset);
  pthread_mutex_lock(&one_at_a_time);
  int64_t at = kind == SEND ? 0 : offset >= 0 ? offset : (int64_t)lseek(file, 0, SEEK_CUR);
  ssize_t done = call(file, parts, many, offset);
  int code = errno;
  if (done > 0) record((char)kind, path, at, parts, many, (size_t)done);
  pthread_mutex_unlock(&one_at_a_time);
  errno = code;
  return done;
}

static ssize_t plain_pwrite(int file, const struct iovec *parts, int many, int64_t offset) {
  (void)many;
  return syscall(SYS_pwrite64, file, parts[0].iov_base, parts[0].iov_len, offset);
}
static ssize_t plain_write(int file, const struct iovec *parts, int many, int64_t offset) {
  (void)many;
  (void)offset;
  return syscall(SYS_write, file, parts[0].iov_base, parts[0].iov_len);
}
static ssize_t plain_writev(int file, const struct iovec *parts, int many, int64_t offset) {
  (void)offset;
  return syscall(SYS_writev, file, parts, many);
}

ssize_t pwrite64(int file, const void *bytes, size_t count, off64_t at) {
  struct iovec part = {(void *)bytes, count};
  return written(file, &part, 1, at, plain_pwrite);
}
ssize_t pwrite(int file, const void *bytes, size_t count, off_t at) { return pwrite64(file, bytes, count, at); }
ssize_t write(int file, const void *bytes, size_t count) {
  struct iovec part = {(void *)bytes, count};
  return written(file, &part, 1, -1, plain_write);
}
ssize_t writev(int file, const struct iovec *parts, int many) { return written(file, parts, many, -1, plain_writev); }

static int changed(int file, char kind, int64_t size, int (*call)(int, int64_t)) {
  char path[PATH_MAX + 1];
  if (recorded(file, path) != WRITE) return call(file, size);
  pthread_mutex_lock(&one_at_a_time);
  int answer = call(file, size);
  int code = errno;
  if (answer == 0) record(kind, path, size, NULL, 0, 0);
  pthread_mutex_unlock(&one_at_a_time);
  errno = code;
  return answer;
}

static int plain_truncate(int file, int64_t size) { return (int)syscall(SYS_ftruncate, file, size); }
static int plain_fsync(int file, int64_t size) {
  (void)size;
  return (int)syscall(SYS_fsync, file);
}
static int plain_fdatasync(int file, int64_t size) {
  (void)size;
  return (int)syscall(SYS_fdatasync, file);
}

int ftruncate64(int file, off64_t size) { return changed(file, TRUNCATE, size, plain_truncate); }
int ftruncate(int file, off_t size) { return changed(file, TRUNCATE, size, plain_truncate); }
int fsync(int file) { return changed(file, SYNC, 0, plain_fsync); }
int fdatasync(int file) { return changed(file, SYNC, 0, plain_fdatasync); }

int unlink(const char *path) {
  if (log_file < 0 || strncmp(path, folder, strlen(folder)) != 0) return (int)syscall(SYS_unlink, path);
  pthread_mutex_lock(&one_at_a_time);
  int answer = (int)syscall(SYS_unlink, path);
  int code = errno;
  if (answer == 0) record(REMOVE, path, 0, NULL, 0, 0);
  pthread_mutex_unlock(&one_at_a_time);
  errno = code;
  return answer;
}
