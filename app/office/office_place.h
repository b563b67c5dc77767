// SPDX-License-Identifier: GPL-3.0-or-later
// The Office: questions down the left side, in words; at the right the answer as one sentence,
// then the picture, then the valves behind it. A click on a period asks about that period alone;
// a row opens the valve's visits.
#pragma once

#include <QWidget>

#include <memory>

namespace keyround {

class Session;

class OfficePlace final : public QWidget
{
    Q_OBJECT
public:
    explicit OfficePlace(Session &session, QWidget *parent = nullptr);
    ~OfficePlace() override;

protected:
    void showEvent(QShowEvent *event) override;

private:
    [[nodiscard]] QWidget *buildQuestions();
    [[nodiscard]] QWidget *buildPicture();
    [[nodiscard]] QWidget *buildValves();
    void listen();
    void markStale();
    void refresh();
    void savePicture(bool asPdf);
    void saveFigures();

    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
