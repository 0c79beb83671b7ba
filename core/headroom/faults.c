/* faults.c - the chain with one fault: a stage left out, two neighbours swapped, a directional stage reversed */
#include "core/headroom/headroom-private.h"

#include <math.h>

static guint
rank (const SpFault *fault)
{
  return fault->headroom_db < 0 ? 0 : fault->reflects ? 1 : isnan (fault->headroom_db) ? 2 : 3;
}

/* Order of harm: a rating exceeded, the carrier reflected, an unknown rating (a reversed stage), the least headroom. */
static int
compare_faults (gconstpointer a, gconstpointer b)
{
  const SpFault *first = a, *second = b;
  guint i = rank (first), k = rank (second);
  if (i != k)
    return i < k ? -1 : 1;
  double x = i == 1 ? first->return_loss_db : first->headroom_db, y = i == 1 ? second->return_loss_db : second->headroom_db;
  return (x > y) - (x < y);
}

/* The rated node with the least headroom. If none is exceeded, a reversed stage counts instead: its rating is only valid the other way. */
static const SpNode *
worst_node (const SpOrder *order, const SpNode *nodes)
{
  const SpNode *worst = NULL, *reversed = NULL;
  for (guint k = 0; k <= order->n; k++) {
    if (nodes[k].stage >= 0 && nodes[k].stage == order->reversed)
      reversed = &nodes[k];
    else if (!isnan (nodes[k].headroom_db) && (!worst || nodes[k].headroom_db < worst->headroom_db))
      worst = &nodes[k];
  }
  if (reversed && !(worst && worst->headroom_db < 0))
    return reversed;
  return worst ? worst : &nodes[order->n];
}

static SpFault
make_fault (const SpFeed *feed, SpFaultKind kind, int first, int second, const SpOrder *order)
{
  SpFault fault = { .kind = kind, .stages = { first, second } };
  SpThrownBack back = sp_feed_thrown_back (feed, order);
  fault.n_nodes = order->n + 1;
  fault.nodes = sp_feed_nodes (feed, order);
  const SpNode *worst = worst_node (order, fault.nodes);
  fault.worst_node = g_strdup (worst->name);
  fault.power_w = worst->power_w;
  fault.rating_w = worst->rating_w;
  fault.headroom_db = worst->headroom_db;
  fault.return_loss_db = back.return_loss_db;
  fault.reflector = back.stage;
  fault.reflects = back.unsafe;
  return fault;
}

static SpOrder
as_drawn (const SpChain *chain)
{
  SpOrder order = { .n = chain->n, .reversed = -1 };
  for (guint i = 0; i < chain->n; i++)
    order.stage[i] = i;
  return order;
}

static SpFault
left_out (const SpFeed *feed, guint i)
{
  SpOrder order = as_drawn (feed->chain);
  for (guint k = i; k + 1 < order.n; k++)
    order.stage[k] = k + 1;
  order.n--;
  return make_fault (feed, SP_FAULT_LEFT_OUT, (int) i, -1, &order);
}

static SpFault
swapped (const SpFeed *feed, guint i)
{
  SpOrder order = as_drawn (feed->chain);
  order.stage[i] = i + 1;
  order.stage[i + 1] = i;
  return make_fault (feed, SP_FAULT_SWAPPED, (int) i, (int) i + 1, &order);
}

static SpFault
reversed (const SpFeed *feed, guint i)
{
  SpOrder order = as_drawn (feed->chain);
  order.reversed = (int) i;
  return make_fault (feed, SP_FAULT_REVERSED, (int) i, -1, &order);
}

SpFault *
sp_feed_faults (const SpFeed *feed, const SpThrownBack *drawn, guint *n_faults)
{
  GArray *faults = g_array_new (FALSE, FALSE, sizeof (SpFault));
  for (guint i = 0; i < feed->chain->n; i++) {
    SpFault fault = left_out (feed, i);
    g_array_append_val (faults, fault);
    if (i + 1 < feed->chain->n) {
      fault = swapped (feed, i);
      g_array_append_val (faults, fault);
    }
    if (feed->chain->stages[i]->directional) {
      fault = reversed (feed, i);
      g_array_append_val (faults, fault);
    }
  }
  for (guint i = 0; i < faults->len; i++) { /* a danger of the chain as drawn is reported once, not for a fault that does not change it */
    SpFault *fault = &g_array_index (faults, SpFault, i);
    fault->reflects = fault->reflects && !(drawn->unsafe && fault->return_loss_db >= drawn->return_loss_db);
  }
  g_array_sort (faults, compare_faults);
  *n_faults = faults->len;
  return (SpFault *) g_array_free (faults, FALSE);
}
