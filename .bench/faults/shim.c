/* Loaded before the C library: the n-th call that touches a home fails, or kills the process.

   Only calls on files below the armed folder count; everything else goes through. */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

static char home[4096];
static long left = -1, seen = 0;
static int error_number = 0, lasting = 0, armed = 0, failed = 0;
static char ours[4096];

void faults_arm(const char *folder, long number, int error, int last) {
    strncpy(home, folder, sizeof home - 1);
    left = number; error_number = error; lasting = last; seen = 0; failed = 0; armed = 1;
}
void faults_disarm(void) { armed = 0; }
int faults_failed(void) { return failed; }

static int in_home(const char *path) {
    return armed && path && strncmp(path, home, strlen(home)) == 0;
}
static int mine(int fd) { return armed && fd >= 0 && fd < (int) sizeof ours && ours[fd]; }

/* Returns 1 where this call has to fail; error 0 kills the process instead. */
static int hit(void) {
    long at = seen++;
    if (at == left || (lasting && at > left)) {
        failed = 1;
        if (error_number == 0) kill(getpid(), SIGKILL);
        errno = error_number;
        return 1;
    }
    return 0;
}

#define REAL(name) __typeof__(name) *real = (__typeof__(name) *) dlsym(RTLD_NEXT, #name)
#define BY_PATH(type, name, arguments, path, call) \
    type name arguments { REAL(name); if (in_home(path) && hit()) return (type) -1; return real call; }
#define BY_FD(type, name, arguments, fd, call) \
    type name arguments { REAL(name); if (mine(fd) && hit()) return (type) -1; return real call; }

static int noted(int fd, const char *path) {
    if (fd >= 0 && fd < (int) sizeof ours) ours[fd] = in_home(path);
    return fd;
}
#define OPENS(name) \
    int name(const char *path, int flags, ...) { \
        REAL(name); va_list list; va_start(list, flags); mode_t mode = va_arg(list, mode_t); \
        va_end(list); if (in_home(path) && hit()) return -1; \
        return noted(real(path, flags, mode), path); }
OPENS(open)
OPENS(open64)
int close(int fd) {
    REAL(close);
    int fail = mine(fd) && hit(), error = errno, done = real(fd);
    if (fd >= 0 && fd < (int) sizeof ours) ours[fd] = 0;
    if (fail) { errno = error; return -1; }
    return done;
}
BY_FD(ssize_t, write, (int fd, const void *bytes, size_t size), fd, (fd, bytes, size))
BY_FD(ssize_t, read, (int fd, void *bytes, size_t size), fd, (fd, bytes, size))
BY_FD(int, fsync, (int fd), fd, (fd))
BY_FD(int, ftruncate64, (int fd, off64_t size), fd, (fd, size))
BY_FD(int, flock, (int fd, int what), fd, (fd, what))
BY_FD(int, fstat, (int fd, struct stat *found), fd, (fd, found))
BY_FD(int, fstat64, (int fd, struct stat64 *found), fd, (fd, found))
BY_PATH(int, stat, (const char *path, struct stat *found), path, (path, found))
BY_PATH(int, stat64, (const char *path, struct stat64 *found), path, (path, found))
BY_PATH(int, lstat, (const char *path, struct stat *found), path, (path, found))
BY_PATH(int, lstat64, (const char *path, struct stat64 *found), path, (path, found))
BY_PATH(int, rename, (const char *from, const char *to), from, (from, to))
BY_PATH(int, link, (const char *from, const char *to), from, (from, to))
BY_PATH(int, linkat, (int a, const char *from, int b, const char *to, int flags), from,
        (a, from, b, to, flags))
BY_PATH(int, unlink, (const char *path), path, (path))
BY_PATH(int, mkdir, (const char *path, mode_t mode), path, (path, mode))
BY_PATH(int, chmod, (const char *path, mode_t mode), path, (path, mode))
DIR *opendir(const char *path) {
    REAL(opendir);
    if (in_home(path) && hit()) return NULL;
    return real(path);
}
