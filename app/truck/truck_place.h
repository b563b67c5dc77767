// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>

#include <memory>

namespace keyround {

class Session;

class TruckPlace final : public QWidget
{
    Q_OBJECT
public:
    explicit TruckPlace(Session &session, QWidget *parent = nullptr);
    ~TruckPlace() override;

private:
    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
