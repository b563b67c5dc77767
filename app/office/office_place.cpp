// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/office_place.h"

#include "app/shell/session.h"

namespace keyround {

struct OfficePlace::Parts
{
    Session &session;
};

OfficePlace::OfficePlace(Session &session, QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(Parts{session}))
{
}

OfficePlace::~OfficePlace() = default;

} // namespace keyround
