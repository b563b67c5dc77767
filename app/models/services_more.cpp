// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/services_more.h"

#include "app/shell/session.h"

namespace keyround {

QHash<ValveId, int> servicesMore(Session &session)
{
    QHash<ValveId, int> services;
    if (session.mains().empty() || session.services().empty()) {
        return services; // the network need not be built for this
    }
    const std::vector<ValveImportance> &all = session.importances();
    for (NetIndex i = 0; i < all.size(); ++i) {
        services.insert(session.network().network.valves[i].id, all[i].moreAtMost);
    }
    return services;
}

} // namespace keyround
