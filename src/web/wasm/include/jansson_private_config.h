/* What jansson's own build would find out about the system. */
#define HAVE_STDINT_H           1
#define INITIAL_HASHTABLE_ORDER 3
