// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/truck_place.h"

#include "app/shell/session.h"

namespace keyround {

struct TruckPlace::Parts
{
    Session &session;
};

TruckPlace::TruckPlace(Session &session, QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(Parts{session}))
{
}

TruckPlace::~TruckPlace() = default;

} // namespace keyround
