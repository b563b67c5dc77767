// SPDX-License-Identifier: GPL-3.0-or-later
// How long work tells its watcher how far it is and learns that it should stop.
#pragma once

#include <QString>

#include <functional>

namespace keyround {

/// Called with the share done (0 to 1) and what is being done; returns false to cancel.
/// An empty function means that nobody watches. May be called from a worker thread.
using Progress = std::function<bool(double done, const QString &what)>;

/// True when the work should go on.
[[nodiscard]] inline bool report(const Progress &progress, double done, const QString &what)
{
    return !progress || progress(done, what);
}

} // namespace keyround
